import { useState } from 'preact/hooks';
import type { Kept } from '../../../shared/logbook/log.ts';
import { mayStrike } from '../../../shared/logbook/state/strikes.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { person } from '../app/session.ts';
import { someone } from '../app/who.ts';
import { StrikeForm } from './strike-form.tsx';

/** Strikes an entry out where it stands; it says who may, to one who may not. */
export function StrikeButton({ view, kept, what }: { view: View; kept: Kept; what: string }) {
  const [asked, ask] = useState(false);
  const who = person.value;
  const open = async () => ask((await someone()) !== null);
  return (
    <>
      <button type="button" class="button" aria-label={`Strike ${what}`} onClick={() => void open()}>
        Strike
      </button>
      {asked && (
        <StrikeForm
          view={view}
          target={kept.hash}
          allowed={who !== null && mayStrike(who.id, kept, who.roles)}
          onClose={() => ask(false)}
        />
      )}
    </>
  );
}
