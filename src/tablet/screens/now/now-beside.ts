import type { NowShard } from '../../app/now-shard.ts';

export type NowAnswer = { shard: NowShard } | { error: string };

/** Works the first screen out from the stored log in a worker, so that the tablet stays free for recording. */
export function nowBeside(casting: string): Promise<NowShard> {
  const worker = new Worker(new URL('./now-worker.ts', import.meta.url), { type: 'module' });
  return new Promise<NowShard>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<NowAnswer>) => {
      if ('shard' in data) resolve(data.shard);
      else reject(new Error(data.error));
    };
    worker.onerror = (event) => reject(new Error(event.message));
    worker.postMessage(casting);
  }).finally(() => worker.terminate());
}
