import { useEffect, useRef, useState } from 'preact/hooks';
import { alsoAt, coreAt } from '../../../../../shared/logbook/state/core-serials.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { recordSerial } from '../../../acts/cores.ts';
import { TypingWay } from '../../../app/typing-way.ts';
import { useSaving } from '../../../app/use-saving.ts';
import { useTypedOnPage } from './use-typed-on-page.ts';

export interface SerialDraft {
  readonly serial: string;
}

/** The serial of the core at an address: scanned or typed, Enter ends it. */
export function SerialRow(props: {
  view: View;
  operation: string;
  address: string;
  text: string;
  onText: (text: string) => void;
  /** It is kept: the walk goes on. */
  onKept: () => void;
}) {
  const { view, operation, address, text, onText, onKept } = props;
  const field = useRef<HTMLInputElement>(null);
  const { serial } = coreAt(view, address);
  const [correcting, correct] = useState(false);
  const [ask, setAsk] = useState<string | null>(null);
  const way = useRef(new TypingWay());
  const { busy, problem, run } = useSaving();
  const typing = serial === null || correcting;
  useEffect(() => {
    way.current = new TypingWay();
    setAsk(null);
    correct(false);
  }, [address]);
  useTypedOnPage(typing, () => field.current?.focus({ preventScroll: true }));
  const enter = async (at_ms: number) => {
    const typed = text.trim().normalize('NFC');
    if (typed === '') return setAsk('Scan the mark on the core, or type it.');
    const elsewhere = alsoAt(view, typed, address);
    const question =
      elsewhere === null ? null : `${typed} is entered at core ${elsewhere} too. Enter again to keep it.`;
    if (question !== null && question !== ask) return setAsk(question);
    const said = { operation, station: address, serial: typed, way: way.current.end(at_ms) };
    if (!(await run(() => recordSerial(said)))) return;
    way.current = new TypingWay();
    setAsk(null);
    correct(false);
    onText('');
    onKept();
  };
  if (!typing)
    return (
      <div class="serial-row">
        <p class="grow">
          <span class="small dim">Serial</span> <b class="n">{serial}</b>
        </p>
        <button type="button" class="button" onClick={() => correct(true)}>
          Correct the serial
        </button>
      </div>
    );
  return (
    <form
      class="serial-row"
      onSubmit={(event) => {
        event.preventDefault();
        void enter(event.timeStamp);
      }}
    >
      <label class="labelled grow">
        <span>Serial of core {address}</span>
        <input
          ref={field}
          class="input n"
          value={text}
          maxLength={80}
          autoComplete="off"
          autoCapitalize="characters"
          spellcheck={false}
          enterkeyhint="done"
          placeholder={serial ?? ''}
          onInput={(event) => {
            way.current.text(event.currentTarget.value, event.timeStamp);
            onText(event.currentTarget.value);
          }}
        />
      </label>
      <button type="submit" class="button">
        {busy ? 'Saving' : 'Enter'}
      </button>
      {(ask || problem) && (
        <p class={problem ? 'error small' : 'asked small'} role="status">
          {problem ? `Not saved: ${problem} What you typed is still here.` : ask}
        </p>
      )}
    </form>
  );
}
