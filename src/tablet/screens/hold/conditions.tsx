import type { Condition } from '../../../../shared/logbook/state/conditions.ts';
import type { HoldState } from '../../../../shared/logbook/state/holds.ts';
import { ConditionMark } from '../../parts/condition-mark.tsx';
import { LimitStrip } from '../../parts/limit-strip.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictDrawing } from '../../parts/verdict-mark.tsx';
import { mendLink } from './mend.ts';

/** The evidence laid out: every condition with what stands, the worst value on its strip. */
export function Conditions({ state }: { state: HoldState }) {
  const met = state.conditions.length - state.missing.length;
  return (
    <Sheet
      title="Evidence"
      aside={`${met} of ${state.conditions.length} stand · ${state.evidence.length} entries`}
      class="hold-evidence"
    >
      <ul class="rows">
        {state.conditions.map((condition) => (
          <ConditionRow key={condition.id} condition={condition} />
        ))}
      </ul>
    </Sheet>
  );
}

function ConditionRow({ condition }: { condition: Condition }) {
  const { title, words, met, mend, verdict } = condition;
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
    <li class={wants ? 'wants-hand' : ''}>
      {link ? (
        <a class="row" href={link.href}>
          {content}
        </a>
      ) : (
        content
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
