import { useSignal } from '@preact/signals';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Kept } from '../../../../shared/logbook/log.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Look } from '../../../../shared/logger/look.ts';
import type { Delimiter, LoggerMapping } from '../../../../shared/logger/mapping.ts';
import type { LoggerReport } from '../../../../shared/logger/report.ts';
import { takeLoggerFile } from '../../acts/logger.ts';
import { useDraft } from '../../app/use-draft.ts';
import { someone } from '../../app/who.ts';
import { LoggerBeside } from '../../storage/logger/logger-beside.ts';
import { type MappingDraft, noMapping, proposed, readMapping } from './mapping-draft.ts';

/** How far a file has come. */
export type LoggerStep =
  | { readonly at: 'none' }
  | { readonly at: 'looking'; readonly file: File }
  | { readonly at: 'mapping'; readonly file: File; readonly look: Look }
  | { readonly at: 'reading'; readonly file: File; readonly look: Look; readonly done: number; readonly of: number }
  | ({ readonly at: 'read' } & ReadThrough)
  | ({ readonly at: 'keeping' } & ReadThrough)
  | { readonly at: 'kept'; readonly file: File; readonly entry: Kept };

/** A file that was read, and the mapping under which it was. */
interface ReadThrough {
  readonly file: File;
  readonly look: Look;
  readonly mapping: LoggerMapping;
  readonly report: LoggerReport;
}

export interface LoggerFileWork {
  readonly step: LoggerStep;
  readonly draft: MappingDraft;
  /** What is wrong with the file, or what must be said first; the words stay until the next step. */
  readonly fault: string | null;
  readonly choose: (file: File) => Promise<void>;
  readonly change: (part: Partial<MappingDraft>) => void;
  /** Looks at it again, its columns parted as somebody says. */
  readonly part: (parted: Delimiter) => Promise<void>;
  readonly read: () => Promise<void>;
  readonly take: () => Promise<void>;
  readonly back: () => void;
  readonly leave: () => void;
}

const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** One logger file from the chooser into the log; a worker reads it. */
export function useLoggerFile(view: View): LoggerFileWork {
  const step = useSignal<LoggerStep>({ at: 'none' });
  const fault = useSignal<string | null>(null);
  // Kept for the next file of the same logger; it holds back no update of the app.
  const kept = useDraft<MappingDraft>('logger/mapping', noMapping, { holds: () => false });
  const beside = useMemo(() => new LoggerBeside(), []);
  useEffect(() => () => beside.end(), [beside]);

  // Counts what people do: an answer to something before it comes too late.
  const turn = useRef(0);

  const go = (next: LoggerStep, words: string | null = null) => {
    turn.current += 1;
    step.value = next;
    fault.value = words;
  };
  /** Goes on from an answer, unless somebody went on meanwhile. */
  const after = async <T>(answer: Promise<T>, onward: (result: T) => void, failed: (words: string) => void) => {
    const own = turn.current;
    const ended = await answer.then(
      (result) => () => onward(result),
      (error: unknown) => () => failed(wordsOf(error)),
    );
    if (turn.current === own) ended();
  };
  const look = (file: File, from: LoggerStep, parted?: Delimiter) => {
    const ids = view.plan.channels.map((c) => c.id);
    return after(
      beside.look(file, ids, parted),
      (seen) => {
        kept.change(proposed(seen, kept.latest(), view.plan.channels));
        go({ at: 'mapping', file, look: seen });
      },
      (words) => go(from, words),
    );
  };
  const choose = async (file: File) => {
    go({ at: 'looking', file });
    await look(file, { at: 'none' });
  };
  const part = async (parted: Delimiter) => {
    const now = step.peek();
    if (now.at !== 'mapping') return;
    turn.current += 1;
    await look(now.file, now, parted);
  };
  const read = async () => {
    const now = step.peek();
    if (now.at !== 'mapping') return;
    const { file, look } = now;
    const said = readMapping(look, kept.latest());
    if ('ask' in said) {
      fault.value = said.ask;
      return;
    }
    const { mapping } = said;
    go({ at: 'reading', file, look, done: 0, of: file.size });
    const own = turn.current;
    const reading = beside.read(file, mapping, Date.now(), (done, of) => {
      if (turn.current === own) step.value = { at: 'reading', file, look, done, of };
    });
    await after(
      reading,
      (report) => go({ at: 'read', file, look, mapping, report }),
      (words) => go({ at: 'mapping', file, look }, words),
    );
  };
  const take = async () => {
    const now = step.peek();
    if (now.at !== 'read') return;
    const own = turn.current;
    if (!(await someone()) || turn.current !== own) return;
    const { file, mapping, report } = now;
    go({ ...now, at: 'keeping' });
    try {
      go({ at: 'kept', file, entry: await takeLoggerFile(beside, { file, mapping, report }) });
    } catch (error) {
      go(now, wordsOf(error));
    }
  };
  return {
    step: step.value,
    draft: kept.value,
    fault: fault.value,
    choose,
    change: kept.change,
    part,
    read,
    take,
    back: () => {
      const now = step.peek();
      if ('look' in now) go({ at: 'mapping', file: now.file, look: now.look });
    },
    leave: () => go({ at: 'none' }),
  };
}
