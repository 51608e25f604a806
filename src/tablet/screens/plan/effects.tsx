import { useState } from 'preact/hooks';
import { spoken } from '../../../../shared/logbook/state/findings.ts';
import type { HoldEffect, PlanEffects, Rejudged } from '../../../../shared/logbook/state/plan-effects.ts';
import { sameLimits } from '../../../../shared/logbook/state/readings.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { limitWords } from '../../shared-screens/limit-words.ts';

const MOST = 5;

/** What a revision would do to the log as it stands. */
export function Effects({ effects, revision }: { effects: PlanEffects; revision: string }) {
  const { rejudged, sameVerdict, wouldFail, heldUp, opened, closed } = effects;
  return (
    <>
      <Sheet title="Released hold points that would fail" aside={String(wouldFail.length)}>
        {wouldFail.length === 0 ? (
          <p class="pad">None: every released hold point would pass by it too.</p>
        ) : (
          <>
            <p class="pad">
              They stay released under the revision that they were signed under. Whether they are looked at again is for
              people to decide.
            </p>
            <HoldEffects holds={wouldFail} tense="would be" revision={revision} />
          </>
        )}
      </Sheet>
      <Sheet title="Open work judged anew" aside={`${rejudged.length} with another verdict`}>
        {rejudged.length === 0 && <p class="pad">No verdict on open work changes.</p>}
        <Values values={rejudged} />
        {sameVerdict > 0 && (
          <p class="pad small">
            {sameVerdict} more {sameVerdict === 1 ? 'value gets' : 'values get'} other limits and{' '}
            {sameVerdict === 1 ? 'keeps its' : 'keep their'} verdict.
          </p>
        )}
      </Sheet>
      {heldUp.length > 0 && (
        <Sheet title="Open hold points that would lack more" aside={String(heldUp.length)}>
          <HoldEffects holds={heldUp} tense="would be" revision={revision} />
        </Sheet>
      )}
      {opened.length + closed.length > 0 && (
        <Sheet title="Other findings" aside={String(opened.length + closed.length)}>
          <ul class="rows">
            {opened.map((f) => (
              <li key={f.id}>
                <span class="grow">
                  <b>{f.title}</b>
                  <span class="note second">would be opened, {f.severity}</span>
                </span>
              </li>
            ))}
            {closed.map((f) => (
              <li key={f.id}>
                <span class="grow">
                  <b>{f.title}</b>
                  <span class="note second">would no longer be found</span>
                </span>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
    </>
  );
}

interface HoldProps {
  readonly holds: readonly HoldEffect[];
  readonly tense: 'is' | 'would be';
  readonly revision: string;
}

/** Each hold point with what it fails for, and the values. */
export function HoldEffects({ holds, tense, revision }: HoldProps) {
  return (
    <ul class="rows">
      {holds.map(({ hold, releasedUnder, why, values }) => (
        <li key={hold.id} class="plan-hold">
          <a class="row" href={`/hold/${hold.id}`}>
            <span class="grow">
              <b>
                {hold.id} {hold.name}
              </b>
              {releasedUnder !== null && <span class="note second">released under revision {releasedUnder}</span>}
              <span class="second small outside">
                {tense === 'is' ? `By revision ${revision} it would not pass` : 'It would not pass'}:
              </span>
              {why.map((words) => (
                <span key={words} class="second small">
                  {words}
                </span>
              ))}
            </span>
          </a>
          <Values values={values} />
        </li>
      ))}
    </ul>
  );
}

/** Values, those of one characteristic in one operation together, the furthest past their limits first. */
function Values({ values }: { values: readonly Rejudged[] }) {
  const groups = new Map<string, Rejudged[]>();
  for (const v of values) {
    const key = `${v.operation}/${v.characteristic}`;
    groups.set(key, [...(groups.get(key) ?? []), v]);
  }
  return (
    <>
      {[...groups].map(([key, group]) => (
        <ValueGroup key={key} values={group.sort((a, b) => room(a) - room(b))} />
      ))}
    </>
  );
}

/** How far a value lies inside its new limits; less than nothing is past them. */
const room = ({ value, limits: { after } }: Rejudged): number =>
  Math.min(
    after.upper === null ? Infinity : after.upper - value,
    after.lower === null ? Infinity : value - after.lower,
  );

function ValueGroup({ values }: { values: readonly Rejudged[] }) {
  const [all, setAll] = useState(false);
  const [first] = values;
  const shown = all ? values : values.slice(0, MOST);
  const alike = values.every((v) => sameLimits(v.limits.after, first!.limits.after));
  return (
    <section class="plan-values">
      <p class="pad small">
        <b>{first!.name}</b>, operation {first!.operation}
        {alike && <LimitChange value={first!} />}
      </p>
      <ul>
        {shown.map((value) => (
          <li key={`${value.place}/${value.reading}`}>
            {value.reading === null ? (
              <div class="row">
                <OneValue value={value} withLimits={!alike} />
              </div>
            ) : (
              <a class="row" href={`/record/${value.reading}`}>
                <OneValue value={value} withLimits={!alike} />
              </a>
            )}
          </li>
        ))}
      </ul>
      {values.length > shown.length && (
        <div class="pad">
          <button type="button" class="button wide" onClick={() => setAll(true)}>
            Show all {values.length}
          </button>
        </div>
      )}
    </section>
  );
}

function LimitChange({ value: { limits, decimals, unit } }: { value: Rejudged }) {
  return (
    <span class="second">
      {limitWords(limits.before, { decimals, unit })} → <b>{limitWords(limits.after, { decimals, unit })}</b>
    </span>
  );
}

const sideOf = ({ value, limits: { after } }: Rejudged): 'low' | 'high' => {
  const { lower, upper } = after;
  if (lower === null || upper === null) return lower === null ? 'high' : 'low';
  return value < (lower + upper) / 2 ? 'low' : 'high';
};

function OneValue({ value: v, withLimits }: { value: Rejudged; withLimits: boolean }) {
  return (
    <>
      <span class="grow">
        {v.place || 'single value'}
        {withLimits && <LimitChange value={v} />}
      </span>
      <Figure value={v.value} decimals={v.decimals} unit={v.unit} />
      <span class="plan-verdicts">
        <span class="small dim">{spoken(v.verdict.before)}</span>
        <span class="hidden-text"> becomes </span>
        <span aria-hidden="true">→</span>
        <VerdictMark verdict={v.verdict.after} side={sideOf(v)} />
      </span>
    </>
  );
}

/** In a few lines, what a revision would do. */
export function EffectLines({ effects: { rejudged, wouldFail, heldUp } }: { effects: PlanEffects }) {
  const ids = (holds: readonly HoldEffect[]) => holds.map((h) => h.hold.id).join(', ');
  return (
    <ul class="plan-lines">
      <li>
        {wouldFail.length === 0 ? (
          'No released hold point would fail by it.'
        ) : (
          <b class="outside">Released, and would fail by it: {ids(wouldFail)}</b>
        )}
      </li>
      <li>
        {rejudged.length === 0
          ? 'No verdict on open work changes.'
          : `${rejudged.length} ${rejudged.length === 1 ? 'value' : 'values'} of open work with another verdict`}
      </li>
      {heldUp.length > 0 && <li>Open hold points that would lack more: {ids(heldUp)}</li>}
    </ul>
  );
}
