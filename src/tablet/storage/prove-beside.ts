import type { Progress, Proof } from './prove.ts';

type Answer = { done: number; of: number } | { proof: Proof } | { error: string };

/** Proves the chains in a worker, so that the tablet stays free for recording. */
export function proveBeside(casting: string, onProgress: Progress): Promise<Proof> {
  const worker = new Worker(new URL('./prove-worker.ts', import.meta.url), { type: 'module' });
  return new Promise<Proof>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<Answer>) => {
      if ('done' in data) onProgress(data.done, data.of);
      else if ('proof' in data) resolve(data.proof);
      else reject(new Error(data.error));
    };
    worker.onerror = (event) => reject(new Error(event.message));
    worker.postMessage(casting);
  }).finally(() => worker.terminate());
}
