/** What a file holds as text. `broken` where its packing ends too early or does not fit: the text is what came before. */
export interface UnpackedFile {
  readonly text: string;
  readonly broken: boolean;
}

const GZIP = [0x1f, 0x8b];

/** Reads a file, packed or plain. */
export async function unpackFile(file: Blob): Promise<UnpackedFile> {
  const start = new Uint8Array(await file.slice(0, 2).arrayBuffer());
  if (!GZIP.every((byte, i) => start[i] === byte)) return { text: await file.text(), broken: false };
  const reader = file.stream().pipeThrough(new DecompressionStream('gzip')).getReader();
  const decoder = new TextDecoder();
  let text = '';
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read())
      text += decoder.decode(part.value, { stream: true });
    return { text: text + decoder.decode(), broken: false };
  } catch {
    return { text, broken: true };
  }
}

export const packFile = (parts: readonly string[]): Promise<Blob> =>
  new Response(new Blob([...parts]).stream().pipeThrough(new CompressionStream('gzip'))).blob();

/** Hands a file to the browser, which keeps it where it keeps what is saved. */
export function handOut(content: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
