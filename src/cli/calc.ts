// `npm run --silent calc -- …`: the calculations at the desk. Prints nothing but JSON on standard output.
import { type Answer, answerDesk } from './desk.ts';

async function readStandardInput(): Promise<Uint8Array> {
  const chunks: Buffer[] = [];
  for await (const chunk of process.stdin) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

/** A fault of ours still leaves JSON and no stack trace; its own status tells it from a refusal. */
async function answerOrFault(): Promise<Answer> {
  try {
    return await answerDesk(process.argv.slice(2), readStandardInput);
  } catch (error) {
    const what = error instanceof Error ? error.message : String(error);
    return {
      status: 1,
      output: { error: { path: '', message: `a fault of this program, please report it: ${what}` } },
    };
  }
}

// A reader that stops early, such as `head`, is no fault.
process.stdout.on('error', () => process.exit(0));
const { status, output } = await answerOrFault();
process.exitCode = status;
process.stdout.write(`${JSON.stringify(output)}\n`);
