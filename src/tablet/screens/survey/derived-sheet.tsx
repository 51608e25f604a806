import { useState } from 'preact/hooks';
import type { DerivedValue } from '../../../../shared/logbook/state/derived-value.ts';
import { GUARD_FACTOR } from '../../../../shared/logbook/state/derived-value.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Figure } from '../../parts/figure.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { StationList } from '../../parts/station-list.tsx';
import { DerivedWorking } from '../../shared-screens/derived-working.tsx';
import { shownNow } from './shown.ts';
import type { Survey } from './survey-of.ts';
import { nearestLimit } from './verdict-sentence.ts';

/** A characteristic that nobody measures: its values, and where the readings behind them are taken. */
export function DerivedSheet({
  view,
  survey,
  values,
}: {
  view: View;
  survey: Survey;
  values: readonly DerivedValue[];
}) {
  const { characteristic: c, operation } = survey;
  const shown = shownNow(c);
  const sources = c.derivedFrom?.characteristics ?? [];
  const [opened, setOpened] = useState<string | null>(null);
  const label = (id: string) => survey.items.find((i) => i.station.id === id)?.station.label ?? id;
  return (
    <Sheet title={c.name} beside="worked out, not measured">
      <p class="pad">{c.derivedFrom?.words}</p>
      {values.length === 0 ? (
        <div class="empty">
          <p>The value stands here when every reading behind it is taken.</p>
        </div>
      ) : (
        <StationList
          label={c.name}
          rows={values.map((v) => ({
            key: v.station,
            name: values.length === 1 ? c.name : label(v.station),
            reading: <Figure value={shown.value(v.value)} decimals={shown.decimals} unit={shown.unit} />,
            strip: {
              ...shown.limits(v.limits),
              value: shown.value(v.value),
              verdict: v.verdict,
              guard: shown.span(GUARD_FACTOR * v.standardUncertainty),
              decimals: shown.decimals,
              unit: shown.unit,
            },
            side: nearestLimit(v)?.side,
            onChoose: () => setOpened(v.station),
          }))}
        />
      )}
      {opened !== null && (
        <Overlay title={`Working of ${c.name}`} onClose={() => setOpened(null)}>
          <DerivedWorking view={view} operation={operation.id} characteristic={c.id} station={opened} />
        </Overlay>
      )}
      <div class="buttons pad">
        {sources.map((id) => (
          <a key={id} class="button" href={`/survey/${operation.id}/${id}`}>
            {view.plan.characteristics.find((s) => s.id === id)?.name ?? id}
          </a>
        ))}
      </div>
    </Sheet>
  );
}
