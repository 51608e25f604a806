import { useState } from 'preact/hooks';
import type { Arrangement } from '../../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { endArrangement } from '../../acts/arrangements.ts';
import { readObserved } from '../../app/observed-at.ts';
import { isoWithOffset } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { someone } from '../../app/who.ts';
import { PastMoment, type TypedMoment } from '../../shared-screens/past-moment.tsx';
import { ArrangeForm, WordsField } from './form-parts.tsx';

interface Props {
  readonly view: View;
  readonly arrangement: Arrangement;
  readonly onDone: (said?: string) => void;
}

const empty: { words: string; moment: TypedMoment | null } = { words: '', moment: null };

/** All is as planned again: since when, and how it stands. */
export function EndForm({ view, arrangement, onDone }: Props) {
  const draft = useDraft(`arrangement/end/${arrangement.id}`, empty);
  const [ask, setAsk] = useState<string | null>(null);
  if (!draft.ready) return null;
  const { value, change } = draft;
  const { timeZone } = view.genesis;
  const keep = async () => {
    const words = value.words.trim();
    if (words === '') return setAsk('Say how it stands now.');
    const observed = value.moment && readObserved(value.moment.date, value.moment.time, timeZone, new Date());
    if (observed && 'fault' in observed) return setAsk(observed.fault);
    setAsk(null);
    if (!(await someone())) return;
    const body = { arrangement: arrangement.id, operation: arrangement.line.body.operation, words };
    const when = observed ? { observedAt: isoWithOffset(observed.at) } : {};
    if (!(await wasKept(endArrangement(body, when)))) return;
    await draft.clear();
    onDone('Saved: it is ended.');
  };
  return (
    <ArrangeForm ask={ask} done="End it" onDone={() => void keep()} onLeave={() => onDone()}>
      <WordsField label="How it stands now" value={value.words} onText={(words) => change({ words })} />
      <PastMoment
        label="It was ended earlier"
        which="of its end"
        timeZone={timeZone}
        moment={value.moment}
        onMoment={(moment) => change({ moment })}
      />
    </ArrangeForm>
  );
}
