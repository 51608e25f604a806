import { useMemo, useState } from 'preact/hooks';
import type { Answer } from '../../../../../shared/logbook/kinds.ts';
import { checkedStations } from '../../../../../shared/logbook/state/checks.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { addressWords } from '../../../../../shared/plan/core-stations.ts';
import { coresOf, readRange, ringOf } from '../../../../../shared/plan/cores.ts';
import type { Operation } from '../../../../../shared/plan/schema.ts';
import { recordCheck } from '../../../acts/cores.ts';
import { useDraft } from '../../../app/use-draft.ts';
import { useSaving } from '../../../app/use-saving.ts';
import { ChoiceList } from '../../../parts/choice-list.tsx';
import { Filter } from '../../../parts/filter.tsx';
import { Overlay } from '../../../parts/overlay.tsx';
import { coreItems } from './core-layers.ts';

const EMPTY = { range: '', item: '', answer: 'yes' as Answer, words: '' };
const ANSWERS: readonly { value: Answer; label: string }[] = [
  { value: 'yes', label: 'yes' },
  { value: 'no', label: 'no' },
  { value: 'not-applicable', label: 'not applicable' },
];

/** One item answered at a range of cores in one act. */
export function CheckRange(props: {
  view: View;
  operation: Operation;
  address: string;
  onClose: (said?: string) => void;
}) {
  const { view, operation, address, onClose } = props;
  const draft = useDraft(`check/${operation.id}`, EMPTY);
  const [ask, setAsk] = useState<string | null>(null);
  const { busy, problem, run } = useSaving();
  const known = useMemo(() => coresOf(view.plan).flatMap((c) => (c.whole ? [c.address] : [])), [view.plan]);
  if (!draft.ready) return null;
  const { value, change, clear } = draft;
  const items = coreItems(operation);
  const item = items.find((i) => i.id === value.item) ?? items[0]!;
  const text = value.range || address;
  const range = readRange(text, known);
  const count = 'addresses' in range ? range.addresses.length : 0;
  const ring = known.filter((a) => ringOf(a) === ringOf(address));
  const keep = async () => {
    if ('unknown' in range)
      return setAsk(
        range.unknown === '' ? 'Say which cores.' : `No core is called ${range.unknown}: type 3.1 to 3.18, or ring 3.`,
      );
    const words = value.words.trim();
    if (value.answer === 'no' && words === '') return setAsk('Say what is wrong.');
    setAsk(null);
    const said = {
      operation: operation.id,
      item: item.id,
      answer: value.answer,
      stations: range.addresses,
      way: 'keypad' as const,
      ...(words ? { words } : {}),
    };
    if (!(await run(() => recordCheck(said)))) return;
    await clear();
    onClose(`Saved: ${value.answer} at ${coreWords(range.addresses)}. One strike takes it back.`);
  };
  return (
    <Overlay title="Answer core by core" onClose={() => onClose()}>
      <div class="check-range">
        <label class="labelled">
          <span>Cores</span>
          <input
            class="input n"
            value={text}
            autoComplete="off"
            spellcheck={false}
            onInput={(event) => change({ range: event.currentTarget.value })}
          />
        </label>
        <Filter<string>
          legend="Which cores"
          choices={[
            { value: address, label: `Core ${address}` },
            { value: addressWords(ring), label: `Ring ${ringOf(address)}` },
            { value: addressWords(known), label: `All ${known.length}` },
          ]}
          value={'addresses' in range ? addressWords(range.addresses) : ''}
          onChoice={(chosen) => change({ range: chosen })}
        />
        <ChoiceList
          legend="What was seen"
          choices={items.map(({ id, text: words }) => ({
            value: id,
            label: words,
            detail: answeredWords(view, operation.id, id, known.length),
          }))}
          value={item.id}
          onChoice={(chosen) => change({ item: chosen })}
        />
        <Filter<Answer>
          legend="Answer"
          choices={ANSWERS}
          value={value.answer}
          onChoice={(answer) => change({ answer })}
        />
        {value.answer !== 'yes' && (
          <label class="labelled">
            <span>{value.answer === 'no' ? 'What is wrong' : 'Why not'}</span>
            <input
              class="input"
              value={value.words}
              maxLength={2000}
              onInput={(event) => change({ words: event.currentTarget.value })}
            />
          </label>
        )}
        <div class="form-end">
          {(ask || problem) && (
            <p class={problem ? 'error small' : 'asked small'} role="status">
              {problem ? `Not saved: ${problem} What you typed is still here.` : ask}
            </p>
          )}
          <button type="button" class="button main wide" onClick={() => void keep()}>
            {busy
              ? 'Saving'
              : `Save: ${ANSWERS.find((a) => a.value === value.answer)!.label} at ${count === 1 ? '1 core' : `${count} cores`}`}
          </button>
        </div>
      </div>
    </Overlay>
  );
}

const coreWords = (addresses: readonly string[]): string =>
  `${addresses.length === 1 ? 'core' : 'cores'} ${addressWords(addresses)}`;

function answeredWords(view: View, operation: string, item: string, of: number): string {
  const answers = [...checkedStations(view, operation, item).values()];
  const noes = answers.filter((a) => a.answer === 'no').length;
  return `answered at ${answers.length} of ${of}${noes > 0 ? `, no at ${noes}` : ''}`;
}
