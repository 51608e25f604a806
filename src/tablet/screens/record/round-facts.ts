import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Plan } from '../../../../shared/plan/schema.ts';
import { formatFigure } from '../../parts/format-figure.ts';
import { planOf } from '../../shared-screens/plan-of.ts';
import { type Facts, fact, type Line, moment, operation, person, planRevision, told, typedHow } from './facts.ts';

/** A round with every channel that was read. */
export function roundFacts(view: View, body: Body<'round'>): Facts {
  const plan = planOf(view, body.plan);
  const heat = plan.heatPlans.find((h) => h.id === body.heatPlan);
  return {
    facts: told(
      operation(plan, body.operation),
      fact('heat', `${body.heatPlan} ${heat?.name ?? ''}`.trim(), `/furnace`),
      fact('round', body.extent === 'full' ? 'all channels' : 'key channels'),
      fact('due', body.dueAt === null ? 'between two rounds' : moment(view, body.dueAt)),
      fact('observer', person(view, body.observer)),
      typedHow(body.way),
      planRevision(view, body.plan),
      fact('words', body.words),
    ),
    list: { title: 'Channels', lines: body.readings.map((reading) => channelLine(plan, reading)) },
  };
}

function channelLine(plan: Plan, reading: Body<'round'>['readings'][number]): Line {
  const { typed, value, state, planned, junction_C, substitute, replaces, words } = reading;
  const channel = plan.channels.find((c) => c.id === reading.channel);
  // A sensor put in place of another is named by nobody but this entry.
  const unit = (channel ?? plan.channels.find((c) => c.id === replaces))?.unit ?? '°C';
  const figure = (n: number) => `${formatFigure(n, { decimals: Number.isInteger(n) ? 0 : 1 })} ${unit}`;
  const notes = [
    channel?.where,
    typed && `typed ${typed.text} ${typed.unit}`,
    junction_C === undefined ? undefined : `junction at ${junction_C} °C`,
    planned === undefined || planned === null ? undefined : `plan ${figure(planned)}`,
    substitute && `${substitute} stands in`,
    replaces && `put in place of ${replaces}`,
    words,
  ];
  return {
    text: reading.channel,
    note: notes.filter(Boolean).join(', '),
    value: [value === null ? 'no value' : figure(value), ...(state === 'good' ? [] : [state])].join(', '),
  };
}
