import type { Page } from 'playwright-core';
import type { Lab } from './lab.ts';

/** The page of the lab that makes a casting at the stage of its cores. */
export const CORES_PAGE = 'cores-page';

export interface CoresWanted {
  readonly blank_diameter_mm: number;
  /** The wall of the tub as the log has it; left out: as the plan has it. */
  readonly wall?: { readonly angles: number; readonly heights: number };
  /** What is measured where, and at how many stations; left out: all. */
  readonly measured: readonly { operation: string; characteristic: string; first?: number | undefined }[];
  readonly finished: readonly string[];
}

/** Makes such a casting in the browser's storage, for the built app to open. */
export async function importCores(
  lab: Lab,
  page: Page,
  wanted: CoresWanted,
): Promise<{ cores: number; entries: number }> {
  await page.goto(lab.app(`/bench/${CORES_PAGE}.html`));
  await page.waitForFunction(() => 'importCores' in globalThis);
  const { cores, entries } = await page.evaluate(
    (w) =>
      (
        globalThis as unknown as { importCores(wanted: unknown): Promise<{ cores: number; entries: number }> }
      ).importCores(w),
    { ...wanted, stated: [] },
  );
  return { cores, entries };
}
