import { useState } from 'preact/hooks';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { spoken } from '../../../../shared/logbook/state/findings.ts';
import { inCalibration, instrument, questionOf } from '../../../../shared/logbook/state/instruments.ts';
import { isRejudged, limitsOf, verdictOf } from '../../../../shared/logbook/state/readings.ts';
import { mayStrike, strikesOf } from '../../../../shared/logbook/state/strikes.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import { strike } from '../../acts/strike.ts';
import { isLate } from '../../app/observed-at.ts';
import { dayAndTime } from '../../app/time.ts';
import type { Shown } from '../../app/units.ts';
import { someone } from '../../app/who.ts';
import { Figure } from '../../parts/figure.tsx';
import { LimitStrip } from '../../parts/limit-strip.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import type { Redo } from './pass-draft.ts';
import { ReasonSheet } from './reason-sheet.tsx';
import { judgedIn, shownNow } from './shown.ts';
import { ruling } from './survey-of.ts';
import type { Pass } from './use-pass.ts';
import { nearestLimit, verdictSentence } from './verdict-sentence.ts';

type Reading = Kept<'reading'>;

const REFUSED =
  'Only the person who read or typed this reading, a crew lead, a process engineer or quality can strike it. Nothing was changed.';

/** A station that is measured: what stands, how it came about, and what can be done about it. */
export function StationSheet({ pass, onReason }: { pass: Pass; onReason: () => void }) {
  const { item, view, survey } = pass;
  const { state } = item;
  const [error, setError] = useState<string | null>(null);
  const current = state && ruling(view, state);
  if (!state || !current) return null;
  const begin = (mode: Redo['mode']) => {
    setError(null);
    if (mode === 'again') return redo({ mode, target: current.hash });
    void someone().then((who) => {
      if (!who) return;
      if (mayStrike(who.id, anyKind(current), who.roles)) redo({ mode, target: current.hash });
      else setError(REFUSED);
    });
  };
  const redo = (wanted: Redo) => pass.change({ redo: { ...pass.draft.redo, [item.station.id]: wanted } });
  return (
    <div class="station-sheet">
      {pass.saved && (
        <p class="small saved" role="status">
          {pass.saved}
        </p>
      )}
      <Standing pass={pass} reading={current} />
      {state.current.length > 1 && (
        <p class="small asked">
          {state.current.length} readings stand here and neither says that it replaces the other. The worse verdict
          rules until one is struck or replaced.
        </p>
      )}
      <ul class="rows history" aria-label="Readings at this station">
        {[...state.history].reverse().map((reading) => (
          <HistoryRow
            key={reading.hash}
            view={view}
            reading={reading}
            shown={shownNow(survey.characteristic)}
            stands={state.current.includes(reading)}
          />
        ))}
      </ul>
      {error && (
        <p class="error small" role="alert">
          {error}
        </p>
      )}
      {pass.next ? (
        <button type="button" class="button main wide" onClick={() => pass.choose(pass.next!.station.id)}>
          Next: {pass.next.station.label}
        </button>
      ) : (
        <p class="small">All {survey.items.length === 1 ? 'is' : `${survey.items.length} stations are`} measured.</p>
      )}
      <div class="station-acts">
        <button type="button" class="button" onClick={() => begin('again')}>
          Measure again
        </button>
        <button type="button" class="button" onClick={() => begin('correct')}>
          Correct
        </button>
        <button type="button" class="button" onClick={onReason}>
          Strike
        </button>
      </div>
    </div>
  );
}

function Standing({ pass, reading }: { pass: Pass; reading: Reading }) {
  const { at20 } = pass.survey.characteristic;
  const shown = shownNow(pass.survey.characteristic);
  const { decimals, unit } = shown;
  const body = judgedIn(shown, { ...reading.body, limits: limitsOf(pass.view, reading) });
  const verdict = verdictOf(pass.view, reading);
  const rejudged = isRejudged(pass.view, reading);
  const { nominal, lower, upper } = body.limits;
  return (
    <>
      <p class="judged-figures">
        <span class="small dim">
          {at20 && 'at 20 °C'}
          {nominal !== null && (
            <span class="judged-from">
              from <Figure value={nominal} decimals={decimals} />
            </span>
          )}
        </span>
        <Figure
          class="judged-value"
          value={body.value}
          decimals={decimals}
          unit={nominal === null ? unit : undefined}
        />
        {nominal !== null && (
          <Figure class={`judged-value ${verdict ?? ''}`} value={body.value - nominal} decimals={decimals} signed />
        )}
      </p>
      <LimitStrip
        size="L"
        value={body.value}
        lower={lower}
        upper={upper}
        nominal={nominal}
        guard={body.guard}
        verdict={verdict}
        unit={unit}
        decimals={decimals}
        superseded={rejudged ? shown.limits(reading.body.limits) : undefined}
      />
      <div class="judged-words">
        {verdict && <VerdictMark verdict={verdict} side={nearestLimit(body)?.side} tag />}
        <p class="small grow">{verdictSentence({ ...body, verdict }, decimals, shown.finest)}</p>
      </div>
      {rejudged && (
        <p class="small">
          The limits have changed since it was read: it was {spoken(reading.body.verdict)} by those that its reader was
          shown.
        </p>
      )}
    </>
  );
}

/** Why a reading's instrument is not relied on; null where it is. */
function flagOf(view: View, reading: Reading): string | null {
  const { body, entry } = reading;
  if (body.instrument === null) return null;
  if (questionOf(view, reading)) return 'was found bad';
  return inCalibration(instrument(view, body.instrument), entry.observedAt) ? null : 'was out of calibration';
}

function HistoryRow({ view, reading, shown, stands }: { view: View; reading: Reading; shown: Shown; stands: boolean }) {
  const { body, entry, hash } = reading;
  const { dayOne, timeZone } = view.genesis;
  const name = (id: string) => view.standing.person(id)?.name ?? 'somebody not admitted';
  const strikes = strikesOf(view, anyKind(reading));
  const late = isLate(entry.observedAt, entry.recordedAt);
  const by = body.observer === entry.by ? name(entry.by) : `read by ${name(body.observer)}, typed by ${name(entry.by)}`;
  const time = (at: string) => dayAndTime(at, dayOne, timeZone);
  const flag = flagOf(view, reading);
  const facts = [
    by,
    time(entry.observedAt),
    flag ? `flagged: ${body.instrument} ${flag}` : (body.instrument ?? 'no instrument'),
    ...(body.way === 'paper' ? ['from paper'] : body.way === 'gauge' ? ['from a gauge'] : []),
    ...(late ? [`late, typed ${time(entry.recordedAt)}`] : []),
  ];
  return (
    <li>
      <a class="row" href={`/record/${hash}`}>
        <span class="grow">
          <span class={strikes.length > 0 ? 'struck' : ''}>
            <Figure value={shown.value(body.value)} decimals={shown.decimals} unit={shown.unit} />
            <span class="note">
              , typed {body.typed.text} {body.typed.unit}
            </span>
          </span>
          <span class="history-facts note">{facts.join(' · ')}</span>
          {strikes.map((s) => (
            <span key={s.hash} class="history-facts note">
              struck: {s.body.reason}
              {s.body.words ? `, ${s.body.words}` : ''} · {name(s.entry.by)} · {time(s.entry.observedAt)}
            </span>
          ))}
        </span>
        <span class="small dim">{stands ? 'stands' : strikes.length > 0 ? 'struck' : 'replaced'}</span>
      </a>
    </li>
  );
}

/** Asks for the reason, and strikes the reading that stands. */
export function StrikeSheet({ pass, correcting, onClose }: { pass: Pass; correcting: boolean; onClose: () => void }) {
  const [error, setError] = useState<string | null>(null);
  const { item, draft, view, change } = pass;
  const current = item.state && ruling(view, item.state);
  async function doStrike(): Promise<void> {
    const who = await someone();
    if (!who || !current) return;
    if (!mayStrike(who.id, anyKind(current), who.roles)) return setError(REFUSED);
    if (!(await strike(current.hash, draft.reason, draft.reasonWords || undefined))) return;
    change({ reason: 'mistyped', reasonWords: '' });
    pass.choose(item.station.id);
    onClose();
  }
  return (
    <ReasonSheet
      title={correcting ? 'Why is the old reading struck?' : `Strike the reading at ${item.station.label}`}
      plan={view.plan}
      draft={draft}
      change={change}
      doLabel={correcting ? 'Use this reason' : `Strike as ${draft.reason}`}
      error={error}
      onClose={onClose}
      onDo={() => {
        if (correcting) return onClose();
        void doStrike().catch((e: unknown) =>
          setError(`Not struck: ${e instanceof Error ? e.message : String(e)}. Nothing was changed; try again.`),
        );
      }}
    />
  );
}
