import { type SyncErrorCode, syncErrors } from '../../shared/sync/errors.ts';

/** A request that is refused with a code of the table, and what helps its sender to do better. */
export class Refusal extends Error {
  constructor(
    readonly code: SyncErrorCode,
    readonly details: Readonly<Record<string, unknown>> = {},
  ) {
    super(code);
  }

  get status(): number {
    return syncErrors[this.code].status;
  }
}
