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

/** What is asked, by the number that its answers carry. */
export interface LoggerQuestion {
  readonly ask: number;
  readonly asked: LoggerAsked;
}

export type LoggerAnswer =
  | { readonly done: number; readonly of: number }
  | { readonly result: unknown }
  | { readonly fault: { readonly code: FileFaultCode; readonly message: string } }
  | { readonly error: string };

export type NumberedAnswer = LoggerAnswer & { readonly ask: number };

interface Waiting {
  readonly resolve: (result: unknown) => void;
  readonly reject: (error: Error) => void;
  readonly onProgress: ReadProgress | undefined;
}

/** A worker that reads logger files, so that the tablet stays free for recording. End it when it is done with. */
export class LoggerBeside {
  private readonly worker = new Worker(new URL('./logger-worker.ts', import.meta.url), { type: 'module' });
  private asks = 0;
  private readonly waiting = new Map<number, Waiting>();

  constructor() {
    this.worker.onmessage = ({ data }: MessageEvent<NumberedAnswer>) => this.answered(data);
    this.worker.onerror = (event) => {
      for (const { reject } of this.waiting.values()) reject(new Error(event.message));
      this.waiting.clear();
    };
  }

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
    this.asks += 1;
    const ask = this.asks;
    return new Promise((resolve, reject) => {
      this.waiting.set(ask, { resolve, reject, onProgress });
      this.worker.postMessage({ ask, asked } satisfies LoggerQuestion);
    });
  }

  private answered(answer: NumberedAnswer): void {
    const waiting = this.waiting.get(answer.ask);
    if (!waiting) return;
    if ('done' in answer) {
      waiting.onProgress?.(answer.done, answer.of);
      return;
    }
    this.waiting.delete(answer.ask);
    if ('result' in answer) waiting.resolve(answer.result);
    else
      waiting.reject(
        'fault' in answer ? new FileFault(answer.fault.code, answer.fault.message) : new Error(answer.error),
      );
  }
}
