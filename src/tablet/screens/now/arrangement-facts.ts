import { openArrangements } from '../../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { ArrangementFacts } from '../../app/now-shard.ts';

/** The open arrangements as plain data. */
export const arrangementFacts = (view: View): ArrangementFacts[] =>
  openArrangements(view).map(({ id, line: { body }, endsAt_ms }) => ({
    id,
    what: body.what,
    owner: view.standing.person(body.owner)?.name ?? 'somebody not admitted',
    endsAt_ms,
    endsWhen: body.endsWhen,
  }));
