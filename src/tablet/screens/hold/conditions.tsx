import { useState } from 'preact/hooks';
import type { Condition } from '../../../../shared/logbook/state/conditions.ts';
import type { HoldState } from '../../../../shared/logbook/state/holds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { ConditionMark } from '../../parts/condition-mark.tsx';
import { LimitStrip } from '../../parts/limit-strip.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictDrawing } from '../../parts/verdict-mark.tsx';
import { HoldPhotos } from './hold-photos.tsx';
import { mendLink } from './mend.ts';
import { WorstWorking } from './worst-working.tsx';

/** The evidence laid out: every condition with what stands, the worst value on its strip. */
export function Conditions({ view, state, counted }: { view: View; state: HoldState; counted: boolean }) {
  const met = state.conditions.length - state.missing.length;
  return (
    <Sheet
      title="Evidence"
      aside={`${met} of ${state.conditions.length} stand · ${counted ? state.evidence.length : '–'} entries`}
      class="hold-evidence"
    >
      <ul class="rows">
        {state.conditions.map((condition) => (
          <ConditionRow key={condition.id} view={view} condition={condition} />
        ))}
      </ul>
      <HoldPhotos view={view} state={state} />
    </Sheet>
  );
}

function ConditionRow({ view, condition }: { view: View; condition: Condition }) {
  const [working, setWorking] = useState(false);
  const { title, words, met, mend, verdict, worst } = condition;
  const link = mend && mendLink(mend);
  const wants = !met && verdict !== null && verdict !== 'within';
  const content = (
    <>
      <Drawing condition={condition} />
      <span class="grow">
        <b>{title}</b>
        <span class="small dim hold-words">
          <span class="hidden-text">{met ? 'met: ' : 'not met: '}</span>
          {words}
        </span>
      </span>
      <Aside condition={condition} />
    </>
  );
  return (
    <li class={`${worst ? 'hold-worked' : ''} ${wants ? 'wants-hand' : ''}`}>
      {link ? (
        <a class="row" href={link.href}>
          {content}
        </a>
      ) : worst ? (
        <div class="row">{content}</div>
      ) : (
        content
      )}
      {worst && (
        <button type="button" class="button" aria-label={`Working of ${title}`} onClick={() => setWorking(true)}>
          Working
        </button>
      )}
      {working && worst && (
        <WorstWorking view={view} condition={condition} worst={worst} onClose={() => setWorking(false)} />
      )}
    </li>
  );
}

function Drawing({ condition: { met, verdict } }: { condition: Condition }) {
  if (verdict !== null) return <VerdictDrawing verdict={verdict} />;
  return <ConditionMark condition={met ? 'met' : 'not-yet'} decorative />;
}

function Aside({ condition }: { condition: Condition }) {
  const { worst, count, unit = '', decimals = 2, verdict } = condition;
  return (
    <>
      {worst && (
        <span class="hold-strip">
          <LimitStrip
            size="M"
            value={worst.value}
            {...worst.limits}
            guard={worst.guard}
            verdict={verdict}
            decimals={decimals}
            unit={unit}
            decorative
          />
        </span>
      )}
      {count && (
        <span class="n hold-count">
          {count[0]}/{count[1]}
        </span>
      )}
    </>
  );
}
