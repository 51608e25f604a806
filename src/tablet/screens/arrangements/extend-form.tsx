import { useState } from 'preact/hooks';
import type { Arrangement } from '../../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { arrange } from '../../acts/arrangements.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { someone } from '../../app/who.ts';
import { type EndTexts, readEnd } from './arrangement-draft.ts';
import { ArrangeForm, EndFields, OwnerField, WordsField } from './form-parts.tsx';

interface Props {
  readonly view: View;
  readonly arrangement: Arrangement;
  readonly onDone: (said?: string) => void;
}

const empty: EndTexts & { reason: string; owner: string } = { date: '', time: '', when: '', reason: '', owner: '' };

/** A later end, or another owner: a line that takes the place of the one before. */
export function ExtendForm({ view, arrangement, onDone }: Props) {
  const draft = useDraft(`arrangement/extend/${arrangement.line.hash}`, empty);
  const [ask, setAsk] = useState<string | null>(null);
  if (!draft.ready) return null;
  const { value, change } = draft;
  const { body } = arrangement.line;
  const owner = value.owner || body.owner;
  const keep = async () => {
    const end = readEnd(value, view.genesis.timeZone);
    if ('ask' in end) return setAsk(end.ask);
    const reason = value.reason.trim();
    if (reason === '') return setAsk('Say why it stays longer.');
    setAsk(null);
    if (!(await someone()) || !(await wasKept(arrange({ ...body, ...end, owner, reason })))) return;
    await draft.clear();
    onDone('Saved: it is extended.');
  };
  return (
    <ArrangeForm ask={ask} done="Extend it" onDone={() => void keep()} onLeave={() => onDone()}>
      <EndFields view={view} value={value} change={change} />
      <WordsField label="Why it stays longer" value={value.reason} onText={(reason) => change({ reason })} />
      <OwnerField view={view} value={owner} onOwner={(chosen) => change({ owner: chosen })} />
    </ArrangeForm>
  );
}
