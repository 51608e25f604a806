import { useSignal } from '@preact/signals';

export interface Saving {
  readonly busy: boolean;
  /** What went wrong, in words; what was typed stays. */
  readonly problem: string | null;
  /** Runs one act at a time. True when it was kept. */
  readonly run: (work: () => Promise<boolean>) => Promise<boolean>;
}

/** An act on its way: nothing is told as saved before its promise says so. */
export function useSaving(): Saving {
  const busy = useSignal(false);
  const problem = useSignal<string | null>(null);
  const run = async (work: () => Promise<boolean>): Promise<boolean> => {
    if (busy.value) return false;
    busy.value = true;
    problem.value = null;
    try {
      return await work();
    } catch (error) {
      problem.value = error instanceof Error ? error.message : String(error);
      return false;
    } finally {
      busy.value = false;
    }
  };
  return { busy: busy.value, problem: problem.value, run };
}
