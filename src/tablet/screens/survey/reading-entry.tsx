import { useEffect, useRef } from 'preact/hooks';
import { isOfCores } from '../../../../shared/plan/core-stations.ts';
import { settings } from '../../app/settings.ts';
import { clockTime } from '../../app/time.ts';
import type { Shown } from '../../app/units.ts';
import { useTypingAnywhere } from '../../app/use-typing-anywhere.ts';
import { Figure } from '../../parts/figure.tsx';
import { Keypad } from '../../parts/keypad.tsx';
import { LimitStrip } from '../../parts/limit-strip.tsx';
import { ReadingField } from '../../parts/reading-field.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import type { Redo, TypedTemperature } from './pass-draft.ts';
import { partName, type Target } from './pass-input.ts';
import { couldBeComplete, isUnsigned } from './read-typed.ts';
import { judgedIn, shownNow } from './shown.ts';
import type { Pass } from './use-pass.ts';
import { nearestLimit, verdictSentence } from './verdict-sentence.ts';

/** Typing a reading at the current station: field, value at 20 °C, strip, verdict, conditions and keypad. */
export function ReadingEntry({
  pass,
  onInstrument,
  onReason,
}: {
  pass: Pass;
  onInstrument: () => void;
  onReason: () => void;
}) {
  const box = useRef<HTMLDivElement>(null);
  const { item, text, unit, survey, target, wanted } = pass;
  useTypingAnywhere(() => fieldOf(box.current, target)?.focus({ preventScroll: true }), pass.enter);
  useEffect(() => {
    if (wanted) fieldOf(box.current, wanted.field)?.focus({ preventScroll: true });
  }, [wanted]);
  const redo = pass.draft.redo[item.station.id];
  const fault = pass.shownFault?.at === 'reading' ? pass.shownFault.words : undefined;
  return (
    <div ref={box} class="reading-entry">
      <div
        class="reading-field"
        data-target="reading"
        onFocusCapture={() => pass.setTarget('reading')}
        onInputCapture={(e) => pass.keyedAt(e.timeStamp)}
        onKeyDownCapture={(e) => pass.keyedAt(e.timeStamp)}
      >
        <ReadingField
          label={`Reading at ${item.station.label}`}
          text={text}
          onText={pass.type}
          onEnter={() => pass.enter('reading')}
          isGauge={pass.isGauge}
          unit={unit}
          error={fault}
          focusKey={`${item.station.id} ${redo?.mode ?? ''}`}
        />
      </div>
      {redo && <RedoRow pass={pass} mode={redo.mode} onReason={onReason} />}
      <Judged pass={pass} />
      <Besides pass={pass} onInstrument={onInstrument} />
      <Keypad
        onKey={pass.press}
        onEnter={() => pass.enter()}
        enterTarget={enterTarget(pass)}
        extraLabel={pass.next && redo === undefined ? 'Skip station' : undefined}
        onExtra={pass.skip}
        mirrored={settings.value.hand === 'left'}
        decimalMark={settings.value.decimalMark}
        unsigned={target === 'reading' && isUnsigned(survey.characteristic, item.inForce)}
      />
    </div>
  );
}

/** A station that is measured already: what becomes of the reading that stands, and the way out. */
function RedoRow({ pass, mode, onReason }: { pass: Pass; mode: Redo['mode']; onReason: () => void }) {
  const { item, draft, change, survey } = pass;
  const shown = shownNow(survey.characteristic);
  const leave = () => {
    const { [item.station.id]: _left, ...redo } = draft.redo;
    change({ redo });
  };
  return (
    <div class="redo-row">
      {mode === 'correct' ? (
        <button type="button" class="button grow" onClick={onReason}>
          <span>
            Strikes the old one: {draft.reason}
            <span class="note redo-change">change the reason</span>
          </span>
        </button>
      ) : (
        <p class="small grow">
          Replaces <Figure value={shown.value(item.value)} decimals={shown.decimals} />, which stays readable.
        </p>
      )}
      <button type="button" class="button" onClick={leave}>
        Leave it
      </button>
    </div>
  );
}

const fieldOf = (box: HTMLElement | null, target: Target): HTMLInputElement | null =>
  box?.querySelector<HTMLInputElement>(`[data-target="${target}"] input`) ?? null;

/** What the Enter key has room for. */
const LONGEST_ON_KEY = 20;

function enterTarget({ view, target, draft, next, item, survey, saving }: Pass): string {
  if (saving) return 'saving';
  if (target === 'part' && !draft.scale?.text) return 'to scale';
  if (target !== 'reading') return 'to reading';
  if (draft.redo[item.station.id]?.mode === 'correct') return 'corrected';
  if (!next) return 'last one';
  const { angle_deg, height_mm, label } = next.station;
  if (height_mm !== undefined && height_mm === item.station.height_mm) return `to ${angle_deg}°`;
  if (label.length <= LONGEST_ON_KEY) return `to ${label}`;
  return isOfCores(view.plan, survey.characteristic)
    ? `to ${next.station.id.replace('@', ' ')}`
    : `to station ${survey.items.indexOf(next) + 1}`;
}

/** The figure as it is judged, once it could be complete. */
function Judged({ pass }: { pass: Pass }) {
  const { item, judgement, read, text, survey } = pass;
  const { characteristic } = survey;
  const units = shownNow(characteristic);
  const { unit, decimals } = units;
  const complete = 'typed' in read && couldBeComplete(text, read.typed.value, item.inForce, characteristic.decimals);
  const shown = judgement && (complete || pass.ask !== null) ? judgedIn(units, judgement) : null;
  const { nominal, lower, upper } = units.limits(item.inForce);
  // Another person, with other units, began the figure.
  const elsewhere = pass.unit !== unit;
  const side = shown ? nearestLimit(shown)?.side : undefined;
  return (
    <>
      <p class="judged-figures">
        <span class="small dim">
          {characteristic.at20 ? 'at 20 °C' : elsewhere ? `in ${unit}` : ''}
          {nominal !== null && nominal !== 0 && (
            <span class="judged-from">
              from <Figure value={nominal} decimals={decimals} />
            </span>
          )}
        </span>
        {shown && (characteristic.at20 || elsewhere) && (
          <Figure class="judged-value" value={shown.value} decimals={decimals} />
        )}
        {shown && nominal !== null && (
          <Figure
            class={`judged-value ${shown.verdict ?? ''}`}
            value={shown.value - nominal}
            decimals={decimals}
            signed
          />
        )}
      </p>
      <LimitStrip
        size="L"
        value={shown?.value ?? null}
        lower={lower}
        upper={upper}
        nominal={nominal}
        guard={shown?.guard ?? units.span(item.guard)}
        verdict={shown?.verdict ?? null}
        unit={unit}
        decimals={decimals}
        decorative={shown === null}
      />
      <div class="judged-words" role="status">
        <Words pass={pass} shown={shown} side={side} units={units} />
      </div>
    </>
  );
}

/** One row says what matters most: what is wrong, what is asked, the verdict, or what was saved last. */
function Words(props: { pass: Pass; shown: Pass['judgement']; side: 'low' | 'high' | undefined; units: Shown }) {
  const { pass, shown, side, units } = props;
  const { shownFault, ask, saved, error } = pass;
  if (error)
    return (
      <p class="small error">
        <b>Not saved: {error}</b> What you typed is still here. Press Enter again.
      </p>
    );
  if (ask) return <p class="small asked">{ask}</p>;
  if (shownFault && shownFault.at !== 'reading') return <p class="small field-error grow">{shownFault.words}</p>;
  if (shown)
    return (
      <>
        {shown.verdict && <VerdictMark verdict={shown.verdict} side={side} tag />}
        <p class="small grow">{verdictSentence(shown, units.decimals, units.finest)}</p>
      </>
    );
  if (pass.fault && pass.text && pass.fault.at !== 'reading') return <p class="small dim">{pass.fault.words}</p>;
  if (saved) return <p class="small">{saved}</p>;
  return <p class="small dim">{limitWords(pass)}</p>;
}

function limitWords({ item, survey }: Pass): string {
  const { lower, upper } = item.inForce;
  const remark = survey.characteristic.limits[0]?.remark;
  if (lower === null && upper === null)
    return remark ? `No number limits this: ${remark}.` : 'No limits: it is recorded as it is.';
  return remark ? `Limits: ${remark}.` : 'The verdict shows here as you type.';
}

/** Temperatures and instrument of the pass; where Enter met that one is missing, the ways to mend it. */
function Besides({ pass, onInstrument }: { pass: Pass; onInstrument: () => void }) {
  const at = pass.shownFault?.at;
  if (at === 'paper')
    return (
      <button type="button" class="button" onClick={onInstrument}>
        Change date and time
      </button>
    );
  if (at === 'instrument')
    return (
      <div class="mends">
        <a class="button" href="/setup">
          Register in Setup
        </a>
        <button
          type="button"
          class="button"
          onClick={() => {
            pass.change({ instrument: null });
            pass.enter('reading');
          }}
        >
          Record without
        </button>
      </div>
    );
  if (!pass.survey.characteristic.at20) return <Instrument pass={pass} onInstrument={onInstrument} wide />;
  return <Conditions pass={pass} onInstrument={onInstrument} />;
}

function Conditions({ pass, onInstrument }: { pass: Pass; onInstrument: () => void }) {
  return (
    <div class="conditions">
      <Temperature pass={pass} which="part" name={partName(pass.survey)} />
      <Temperature pass={pass} which="scale" name="Scale" />
      <Instrument pass={pass} onInstrument={onInstrument} />
    </div>
  );
}

const OLD_MS = 2 * 3_600_000;

function Temperature({ pass, which, name }: { pass: Pass; which: 'part' | 'scale'; name: string }) {
  const typed: TypedTemperature | null = pass.draft[which];
  const wrong = pass.shownFault?.at === which;
  const old = typed?.text && Date.now() - Date.parse(typed.at) > OLD_MS;
  const unit = typed?.text ? typed.unit : settings.value.temperatureUnit;
  return (
    <label
      class={`condition ${wrong ? 'field-wrong' : ''}`}
      data-target={which}
      onFocusCapture={() => pass.setTarget(which)}
    >
      <span class="note">
        {name}
        <span class="hidden-text"> temperature</span>
        {typed?.text && (
          <span class={old ? 'n not-proven' : 'n'}>
            {' '}
            {clockTime(typed.at, pass.view.genesis.timeZone)}
            {old && ' old'}
            {old && <span class="hidden-text">, more than two hours ago: read it again</span>}
          </span>
        )}
      </span>
      <span class="condition-value">
        <input
          value={typed?.text ?? ''}
          inputMode="none"
          autoComplete="off"
          enterkeyhint="next"
          aria-invalid={wrong ? true : undefined}
          onInput={(event) => pass.typeTemperature(which, event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key !== 'Enter') return;
            event.preventDefault();
            pass.enter(which);
          }}
        />
        <span class="u">{unit}</span>
      </span>
    </label>
  );
}

/** Instrument, observer and paper of the pass; a tap changes them. */
function Instrument({ pass, onInstrument, wide }: { pass: Pass; onInstrument: () => void; wide?: boolean }) {
  const { instrument, draft, unchosen, survey, view } = pass;
  const needed = survey.characteristic.instruments.length > 0;
  const name = instrument?.instrument.id ?? (unchosen ? 'Choose' : needed ? 'None' : 'No instrument');
  const words = instrument
    ? instrument.words
    : unchosen
      ? 'no instrument yet'
      : needed
        ? 'not registered'
        : 'needed for this';
  const observer = draft.observer === null ? null : view.standing.person(draft.observer)?.name;
  const bad = instrument ? !instrument.calibrated || !instrument.ofClass : unchosen;
  return (
    <button type="button" class={`condition condition-more ${wide ? 'wide' : ''}`} onClick={onInstrument}>
      <span class="hidden-text">Instrument, observer and paper: </span>
      <span class={bad ? 'not-proven' : ''}>
        <b class={instrument ? 'n' : ''}>{name}</b>
      </span>
      <span class={`note ${bad ? 'not-proven' : ''}`}>
        {instrument?.calibrated === false ? 'out of calibration' : words}
      </span>
      {(observer || draft.paper) && (
        <span class="note condition-rest">
          {[observer && `read by ${observer}`, draft.paper && 'from paper'].filter(Boolean).join(', ')}
        </span>
      )}
    </button>
  );
}
