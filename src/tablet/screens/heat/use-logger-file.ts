import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { Kept } from '../../../../shared/logbook/log.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Look } from '../../../../shared/logger/look.ts';
import type { Delimiter } from '../../../../shared/logger/mapping.ts';
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
  | { readonly at: 'read'; readonly file: File; readonly look: Look; readonly report: LoggerReport }
  | { readonly at: 'keeping'; readonly file: File; readonly look: Look; readonly report: LoggerReport }
  | { readonly at: 'kept'; readonly file: File; readonly entry: Kept };

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

  const go = (next: LoggerStep, words: string | null = null) => {
    step.value = next;
    fault.value = words;
  };
  const choose = async (file: File) => {
    go({ at: 'looking', file });
    try {
      const look = await beside.look(
        file,
        view.plan.channels.map((c) => c.id),
      );
      kept.change(proposed(look, kept.latest(), view.plan.channels));
      go({ at: 'mapping', file, look });
    } catch (error) {
      go({ at: 'none' }, wordsOf(error));
    }
  };
  const part = async (parted: Delimiter) => {
    const now = step.peek();
    if (now.at !== 'mapping') return;
    try {
      const ids = view.plan.channels.map((c) => c.id);
      const look = await beside.look(now.file, ids, parted);
      kept.change(proposed(look, kept.latest(), view.plan.channels));
      go({ at: 'mapping', file: now.file, look });
    } catch (error) {
      go(now, wordsOf(error));
    }
  };
  const read = async () => {
    const now = step.peek();
    if (now.at !== 'mapping') return;
    const { file, look } = now;
    const said = readMapping(look, kept.latest());
    if ('ask' in said) return go(now, said.ask);
    go({ at: 'reading', file, look, done: 0, of: file.size });
    try {
      const report = await beside.read(file, said.mapping, Date.now(), (done, of) => {
        if (step.peek().at === 'reading') step.value = { at: 'reading', file, look, done, of };
      });
      go({ at: 'read', file, look, report });
    } catch (error) {
      go({ at: 'mapping', file, look }, wordsOf(error));
    }
  };
  const take = async () => {
    const now = step.peek();
    if (now.at !== 'read') return;
    const { file, look, report } = now;
    const said = readMapping(look, kept.latest());
    if ('ask' in said || !(await someone())) return;
    go({ at: 'keeping', file, look, report });
    try {
      go({ at: 'kept', file, entry: await takeLoggerFile(beside, { file, mapping: said.mapping, report }) });
    } catch (error) {
      go({ at: 'read', file, look, report }, wordsOf(error));
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
