import { FileFault, type FileFaultCode } from '../../../../shared/logger/file-fault.ts';
import type { Look } from '../../../../shared/logger/look.ts';
import type { Delimiter, LoggerMapping } from '../../../../shared/logger/mapping.ts';
import type { LoggerReport } from '../../../../shared/logger/report.ts';
import type { ReadProgress } from './logger-files.ts';

/** What the worker is asked. */
export type LoggerAsked =
  | {
      readonly do: 'look';
      readonly file: File;
      readonly channels: readonly string[];
      readonly parted?: Delimiter | undefined;
    }
  | { readonly do: 'read'; readonly file: File; readonly mapping: LoggerMapping; readonly now_ms: number }
  | { readonly do: 'keep'; readonly casting: string; readonly file: File; readonly mapping: LoggerMapping }
  | ({ readonly do: 'rebuild'; readonly casting: string } & WantedSamples);

/** A file that an entry names, whose samples are wanted. */
export interface WantedSamples {
  readonly hash: string;
  readonly name: string;
  readonly mapping: LoggerMapping;
  readonly recorded_ms: number;
}

export type LoggerAnswer =
  | { readonly done: number; readonly of: number }
  | { readonly result: unknown }
  | { readonly fault: { readonly code: FileFaultCode; readonly message: string } }
  | { readonly error: string };

/** A worker that reads logger files, so that the tablet stays free for recording. End it when it is done with. */
export class LoggerBeside {
  private readonly worker = new Worker(new URL('./logger-worker.ts', import.meta.url), { type: 'module' });

  /** What the beginning of a file looks like. @throws {FileFault} */
  look(file: File, channels: readonly string[], parted?: Delimiter): Promise<Look> {
    return this.ask({ do: 'look', file, channels, parted }) as Promise<Look>;
  }

  /** Reads a whole file under a mapping; nothing is kept yet. @throws {FileFault} */
  read(file: File, mapping: LoggerMapping, now_ms: number, onProgress: ReadProgress): Promise<LoggerReport> {
    return this.ask({ do: 'read', file, mapping, now_ms }, onProgress) as Promise<LoggerReport>;
  }

  /** Keeps the file that was read last, with its samples. @returns the SHA-256 that names it */
  keep(casting: string, file: File, mapping: LoggerMapping): Promise<string> {
    return this.ask({ do: 'keep', casting, file, mapping }) as Promise<string>;
  }

  /** Makes samples again from the file that is kept. @returns false where the file is not on this tablet */
  rebuild(casting: string, wanted: WantedSamples): Promise<boolean> {
    return this.ask({ do: 'rebuild', casting, ...wanted }) as Promise<boolean>;
  }

  end(): void {
    this.worker.terminate();
  }

  private ask(asked: LoggerAsked, onProgress?: ReadProgress): Promise<unknown> {
    const { worker } = this;
    return new Promise((resolve, reject) => {
      worker.onmessage = ({ data }: MessageEvent<LoggerAnswer>) => {
        if ('done' in data) onProgress?.(data.done, data.of);
        else if ('result' in data) resolve(data.result);
        else reject('fault' in data ? new FileFault(data.fault.code, data.fault.message) : new Error(data.error));
      };
      worker.onerror = (event) => reject(new Error(event.message));
      worker.postMessage(asked);
    });
  }
}
