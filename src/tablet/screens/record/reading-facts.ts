import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { stationLabel } from '../../../../shared/logbook/state/findings.ts';
import { instrument } from '../../../../shared/logbook/state/instruments.ts';
import { isRejudged, limitsOf, verdictOf } from '../../../../shared/logbook/state/readings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById } from '../../../../shared/plan/lookup.ts';
import { formatDecimalText, formatFigure } from '../../parts/format-figure.ts';
import { verdictWord } from '../../parts/verdict.ts';
import { limitWords } from '../../shared-screens/limit-words.ts';
import { planOf } from '../../shared-screens/plan-of.ts';
import { entryLink, type Facts, fact, operation, person, planRevision, told, typedHow } from './facts.ts';

/** A reading with everything that its reader was shown. */
export function readingFacts(view: View, kept: Kept<'reading'>): Facts {
  const { body } = kept;
  const plan = planOf(view, body.plan);
  const characteristic = characteristicById(plan, body.characteristic);
  const unit = characteristic?.unit ?? '';
  const figure = (value: number | null) =>
    value === null ? null : `${formatFigure(value, { decimals: characteristic?.decimals ?? 2 })} ${unit}`;
  const small = (value: number) => `${formatDecimalText(plain(value))} ${unit}`;
  const { nominal, lower, upper } = body.limits;
  const limited = lower !== null || upper !== null;
  return {
    facts: told(
      operation(plan, body.operation),
      fact('measured', characteristic?.name ?? body.characteristic),
      body.station === 'one' ? null : fact('station', stationLabel(view, body.characteristic, body.station)),
      fact('typed', `${body.typed.text} ${body.typed.unit}`),
      ...conditionFacts(body),
      fact(body.conditions.part_temperature_C ? 'value at 20 °C' : 'value', figure(body.value)),
      fact('nominal', figure(nominal)),
      fact('lower limit', figure(lower)),
      fact('upper limit', figure(upper)),
      fact('standard uncertainty', small(body.standardUncertainty)),
      fact('guard at each limit', small(body.guard)),
      limited ? fact('verdict when read', verdictWord(body.verdict)) : fact('verdict', 'nothing limits it'),
      limited ? fact('verdict that counts', verdictWord(verdictOf(view, kept))) : null,
      isRejudged(view, kept)
        ? fact(
            'limits that judge it now',
            limitWords(limitsOf(view, kept), { decimals: characteristic?.decimals ?? 2, unit }),
          )
        : null,
      fact('instrument', instrumentWords(view, body.instrument)),
      fact('observer', person(view, body.observer)),
      typedHow(body.way),
      planRevision(view, body.plan),
      fact('calculations', calculationWords(body.calculations)),
      entryLink(view, 'in place of', body.replaces),
      fact('words', body.words),
    ),
  };
}

const conditionNames: Readonly<Record<string, string>> = {
  part_temperature_C: 'part temperature',
  scale_temperature_C: 'scale temperature',
  part_expansion_per_K: 'expansion of the part',
  scale_expansion_per_K: 'expansion of the scale',
  u_length_mm: 'u of the reading',
  u_part_temperature_K: 'u of the part temperature',
  u_scale_temperature_K: 'u of the scale temperature',
  u_part_expansion_per_K: 'u of the part’s expansion',
  u_scale_expansion_per_K: 'u of the scale’s expansion',
};

/** What was typed besides the reading comes first, then what the length was brought to 20 °C with. */
function conditionFacts({ conditions }: Body<'reading'>) {
  const order = Object.keys(conditionNames);
  const place = (key: string) => (order.includes(key) ? order.indexOf(key) : order.length);
  return Object.entries(conditions)
    .sort(([a], [b]) => place(a) - place(b))
    .map(([key, { text, unit, value }]) =>
      fact(
        conditionNames[key] ?? key.replaceAll('_', ' '),
        unit === '1/K' ? `${plain(value * 1e6)} ×10⁻⁶/K` : `${text} ${unit}`,
      ),
    );
}

function instrumentWords(view: View, id: string | null): string {
  if (id === null) return 'none named';
  const line = instrument(view, id)?.line;
  return line ? `${id}, ${line.name}` : id;
}

const calculationWords = (calculations: Readonly<Record<string, number>>): string =>
  Object.entries(calculations)
    .map(([name, version]) => `${name} version ${version}`)
    .join(', ');

/** Four digits that count, without an exponent. */
export const plain = (value: number): string => {
  const text = String(Number(value.toPrecision(4)));
  return text.includes('e') ? value.toFixed(12).replace(/0+$/, '') : text;
};
