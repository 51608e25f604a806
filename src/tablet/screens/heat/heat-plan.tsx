import { useState } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { planStress, type SegmentStress } from '../../../../shared/furnace/plan-stress.ts';
import { segmentEnds, segmentWords } from '../../../../shared/logbook/state/heat.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { addFault, removeFault, type SegmentCut } from '../../../../shared/plan/cut-segments.ts';
import type { HeatPlan, Plan } from '../../../../shared/plan/schema.ts';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { useDraft } from '../../app/use-draft.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { CalculationWorking } from '../../shared-screens/calculation-working.tsx';
import { enterMovesOn, FigureField } from '../../shared-screens/fields/field.tsx';
import {
  draftKey,
  emptyDraft,
  figureText,
  type PlanDraft,
  proposalOf,
  withCut,
  withoutHeat,
  withoutLastCut,
} from '../../shared-screens/plan-draft.ts';
import { HeatCurve } from './heat-curve.tsx';

/** A heat plan segment by segment: its curve, how long it takes, what its rates do to the glass. */
export function HeatPlanScreen() {
  const view = openView();
  const { id } = useRoute().params;
  const draft = useDraft<PlanDraft>(draftKey, emptyDraft);
  if (!draft.ready) return null;
  const proposal = proposalOf(view, draft.value);
  const plan = proposal.plan.heatPlans.find((h) => h.id === id) ?? proposal.plan.heatPlans[0]!;
  const before = view.plan.heatPlans.find((h) => h.id === plan.id)!;
  return (
    <Screen place="furnace" name="Heat plan" operation={`${plan.id} ${plan.name}`} work="heat-work">
      <div class="heat-hand">
        <Editor view={view} heat={plan} before={before} draft={draft} proposal={proposal} />
      </div>
      <div class="heat-seen">
        <HeatCurve plan={plan} before={before} />
        <Segments plan={proposal.plan} heat={plan} before={before} />
      </div>
    </Screen>
  );
}

interface EditorProps {
  readonly view: View;
  readonly heat: HeatPlan;
  readonly before: HeatPlan;
  readonly draft: ReturnType<typeof useDraft<PlanDraft>>;
  readonly proposal: ReturnType<typeof proposalOf>;
}

/** The segment that `?segment=` names; the first without one. */
function useSegment(heat: HeatPlan): number {
  const asked = Number(useLocation().query.segment ?? 1) - 1;
  return heat.segments[asked] ? asked : 0;
}

function Editor({ view, heat, before, draft, proposal }: EditorProps) {
  const { route } = useLocation();
  const at = useSegment(heat);
  const item = proposal.items.find((i) => i.id === `heatPlans/${heat.id}/segments/${at}`)!;
  const touched =
    draft.value.cuts.some(({ cut }) => cut.heat === heat.id) ||
    Object.keys(draft.value.typed).some((path) => path.startsWith(`heatPlans/${heat.id}/`));
  const faults = [...proposal.faults].filter(([path]) => path.startsWith(`heatPlans/${heat.id}/`));
  const reset = () => draft.change(withoutHeat(draft.latest(), heat.id));
  const stress = planStress(proposal.plan, heat)[at]!;
  const changed = JSON.stringify(heat) !== JSON.stringify(before);
  return (
    <Sheet graduated title={`Segment ${at + 1}`} beside={segmentWords(heat, at + 1)} class="heat-form">
      {/* biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls */}
      <div class="pad stack-small" onKeyDown={enterMovesOn}>
        <div class="heat-two">
          <label class="labelled">
            <span>Heat plan</span>
            <select class="input" value={heat.id} onChange={(e) => route(`/heat/plan/${e.currentTarget.value}`)}>
              {view.plan.heatPlans.map((h) => (
                <option key={h.id} value={h.id}>
                  {h.id} {h.name}
                </option>
              ))}
            </select>
          </label>
          <label class="labelled">
            <span>Segment</span>
            <select
              class="input"
              value={String(at + 1)}
              onChange={(e) => route(`/heat/plan/${heat.id}?segment=${e.currentTarget.value}`)}
            >
              {heat.segments.map((_, i) => (
                <option key={segmentWords(heat, i + 1) + i} value={String(i + 1)}>
                  {i + 1} {segmentWords(heat, i + 1)}
                </option>
              ))}
            </select>
          </label>
        </div>
        <div class="heat-two">
          {item.figures.map(({ path, what, unit, value }) => {
            const text = draft.value.typed[path] ?? figureText(value);
            const quiet = text === figureText(value);
            return (
              <FigureField
                key={path}
                label={what}
                unit={unit}
                text={text}
                quiet={quiet}
                error={proposal.faults.get(path)}
                note={quiet ? '' : `until now ${figureText(value)} ${unit}`}
                onText={(typed) => draft.change({ typed: { ...draft.latest().typed, [path]: typed } })}
              />
            );
          })}
        </div>
        <StressWords stress={stress} plan={proposal.plan} />
        <Cuts plan={proposal.plan} heat={heat} at={at} draft={draft} />
      </div>
      <div class="pad heat-form-foot">
        <div class="form-end">
          {faults.length > 0 ? (
            <p class="field-error" role="alert">
              {faults[0]![1]}
            </p>
          ) : (
            <p class="small dim">
              {changed
                ? 'What you typed is kept on this tablet. It holds once a process engineer signs the revision.'
                : 'Nothing is changed yet.'}
            </p>
          )}
          <div class="buttons">
            {touched && (
              <button type="button" class="button" onClick={reset}>
                As it was
              </button>
            )}
            <a
              class={`button ${changed && faults.length === 0 ? 'main' : 'missing'}`}
              href={`/plan/change?item=${item.id}`}
            >
              Go on to the revision
            </a>
          </div>
        </div>
      </div>
    </Sheet>
  );
}

interface CutsProps extends Pick<EditorProps, 'heat' | 'draft'> {
  readonly plan: Plan;
  readonly at: number;
}

/** Adds a segment behind the one that is shown, takes that one out, and takes either back. */
function Cuts({ plan, heat, at, draft }: CutsProps) {
  const { route } = useLocation();
  // It stands only beside the segment that it is about.
  const [fault, setFault] = useState<{ readonly of: string; readonly words: string } | null>(null);
  const shown = `${heat.id}/${at}`;
  const mine = draft.value.cuts.filter(({ cut }) => cut.heat === heat.id);
  const show = (segment: number) => route(`/heat/plan/${heat.id}?segment=${segment + 1}`, true);
  const make = (words: string | null, cut: SegmentCut, segment: number) => {
    setFault(words === null ? null : { of: shown, words });
    if (words !== null) return;
    draft.change(withCut(draft.latest(), cut));
    show(segment);
  };
  const add = (as: 'ramp' | 'soak') =>
    make(addFault(plan, heat, at), { act: 'add', heat: heat.id, after: at, as }, at + 1);
  const remove = () => make(removeFault(plan, heat, at), { act: 'remove', heat: heat.id, at }, Math.max(0, at - 1));
  const takeBack = () => {
    setFault(null);
    const last = mine.at(-1)!.cut;
    draft.change(withoutLastCut(draft.latest(), heat.id));
    show(last.act === 'add' ? last.after : last.at);
  };
  return (
    <div class="stack-small">
      {fault?.of === shown && (
        <p class="field-error" role="alert">
          {fault.words}
        </p>
      )}
      <div class="buttons">
        <button type="button" class="button" onClick={() => add('ramp')}>
          Add a ramp after segment {at + 1}
        </button>
        <button type="button" class="button" onClick={() => add('soak')}>
          Add a soak after segment {at + 1}
        </button>
        <button type="button" class="button" onClick={remove}>
          Take segment {at + 1} out
        </button>
        {mine.length > 0 && (
          <button type="button" class="button" onClick={takeBack}>
            Undo the last change of segments
          </button>
        )}
      </div>
      {mine.length > 0 && (
        <p class="small dim">
          {mine.length === 1 ? 'One segment was' : `${mine.length} segments were`} added or taken out. Hold points,
          alarms and moments of the handover follow the segments that they name; words that name one by its number stay
          as they are.
        </p>
      )}
    </div>
  );
}

/** What the rate does to the glass, in words, with its working. */
function StressWords({ stress: s, plan }: { stress: SegmentStress; plan: Plan }) {
  const { permanent_stress_MPa, temporary_stress_MPa } = plan.design;
  if (s.does === 'no-glass') return <p class="small">No glass is in the furnace in this heat.</p>;
  if (s.does === 'still') return <p class="small">No stress from cooling: it rises or stays.</p>;
  if (s.does === 'relaxes' || !s.stress)
    return <p class="small">No limit: the glass still relaxes faster than it is cooled here.</p>;
  const over = s.permitted_K_h !== null && -s.rate_K_h > s.permitted_K_h;
  return (
    <div class="stack-small">
      <p>
        {s.does === 'sets' ? 'The glass sets on this way: ' : 'The glass is set: '}
        {s.does === 'sets' ? (
          <>
            <Figure value={s.stress.permanent_centre_stress_MPa} decimals={3} signed unit="MPa" /> stays at the centre,
            of <Figure value={permanent_stress_MPa} decimals={2} unit="MPa" /> permitted.
          </>
        ) : (
          <>
            <Figure value={s.stress.temporary_surface_stress_MPa} decimals={3} signed unit="MPa" /> at the surface while
            it cools, of <Figure value={temporary_stress_MPa} decimals={2} unit="MPa" /> permitted.
          </>
        )}
      </p>
      {s.permitted_K_h !== null && (
        <p class={over ? 'field-error' : 'small'} role={over ? 'alert' : undefined}>
          {over ? 'Faster than the plan permits: ' : 'The plan permits '}
          <Figure value={s.permitted_K_h} decimals={3} unit="K/h" />
          {over ? ' here. Glass under stress can part without warning.' : ' here.'}
        </p>
      )}
      <p class="small">
        The centre is <Figure value={s.stress.centre_minus_surface_K} decimals={2} unit="K" /> hotter than the surface.
        Expansion above 500 °C is larger than the figure used: the true stress may be two to three times as much.
      </p>
      <details>
        <summary class="button">Working</summary>
        <CalculationWorking calculation="cooling-stress" input={{ ...s.input! }} name="the stress of this segment" />
      </details>
    </div>
  );
}

function Segments({ plan, heat, before }: { plan: Plan; heat: HeatPlan; before: HeatPlan }) {
  const at = useSegment(heat);
  const total = segmentEnds(heat).at(-1)!;
  const was = segmentEnds(before).at(-1)!;
  return (
    <Sheet
      title="Segments"
      aside={
        <span>
          <Figure value={total} decimals={1} unit="h" />, <Figure value={total / 24} decimals={1} unit="days" />
          {Math.abs(total - was) > 1e-9 && (
            <>
              {' '}
              (<Figure value={total - was} decimals={1} signed unit="h" />)
            </>
          )}
        </span>
      }
    >
      <ul class="rows">
        {planStress(plan, heat).map((s, i) => (
          <li key={`${heat.id}/${s.begins_h}/${s.to_C}`}>
            <a class="row" href={`/heat/plan/${heat.id}?segment=${i + 1}`} aria-current={i === at ? 'true' : undefined}>
              <b class="n">{i + 1}</b>
              <span class="grow">
                {segmentWords(heat, i + 1)}
                <span class="second small dim">
                  <Figure value={s.ends_h - s.begins_h} decimals={1} unit="h" />, ends at{' '}
                  <Figure value={s.ends_h} decimals={1} unit="h" />
                </span>
              </span>
              <span class="picked-values small">{shortStress(s)}</span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

function shortStress({ does, stress, permitted_K_h, rate_K_h }: SegmentStress) {
  if (!stress) return does === 'relaxes' ? 'relaxes' : null;
  const value = does === 'sets' ? stress.permanent_centre_stress_MPa : stress.temporary_surface_stress_MPa;
  const over = permitted_K_h !== null && -rate_K_h > permitted_K_h;
  return (
    <>
      <Figure value={value} decimals={3} signed unit="MPa" />
      <span class="second dim">{does === 'sets' ? 'stays' : 'while it cools'}</span>
      {over && <span class="second not-proven">faster than permitted</span>}
    </>
  );
}
