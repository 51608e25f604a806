import { useMemo, useState } from 'preact/hooks';
import { readBefore } from '../../../../shared/logbook/state/change-between.ts';
import type { DerivedValue } from '../../../../shared/logbook/state/derived-value.ts';
import { GUARD_FACTOR } from '../../../../shared/logbook/state/derived-value.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById, readAt, stationById } from '../../../../shared/plan/lookup.ts';
import { Figure } from '../../parts/figure.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { StationList } from '../../parts/station-list.tsx';
import { DerivedWorking } from '../../shared-screens/derived-working.tsx';
import { shownNow } from './shown.ts';
import type { Survey } from './survey-of.ts';
import { nearestLimit } from './verdict-sentence.ts';

/** As many rows as are shown at first. */
const MORE = 24;

/** How far a value lies inside its nearer limit; less than nothing outside. */
const roomOf = ({ value, limits: { lower, upper } }: DerivedValue): number =>
  Math.min(upper === null ? Infinity : upper - value, lower === null ? Infinity : value - lower);

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
  const sources = (c.derivedFrom?.characteristics ?? []).flatMap((id) => {
    const source = characteristicById(view.plan, id);
    const read = source && readAt(view.plan, source, operation.id);
    return source && read ? [{ source, read }] : [];
  });
  const changed =
    c.derivedFrom?.calculation === 'control-chart'
      ? sources.filter(({ source, read }) => readBefore(source, read) !== null).map(({ source }) => source.id)
      : [];
  const [opened, setOpened] = useState<string | null>(null);
  const [most, show] = useState(MORE);
  // Of many the worst come first.
  const ordered = useMemo(
    () => (values.length > MORE ? [...values].sort((a, b) => roomOf(a) - roomOf(b)) : values),
    [values],
  );
  const label = (id: string) => stationById(view.plan, c, id)?.label ?? id;
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
          rows={ordered.slice(0, most).map((v) => ({
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
      {ordered.length > most && (
        <div class="buttons pad">
          <button type="button" class="button" onClick={() => show(most + 4 * MORE)}>
            Show more: {ordered.length - most} with more room to their limits
          </button>
        </div>
      )}
      {opened !== null && (
        <Overlay title={`Working of ${c.name}`} onClose={() => setOpened(null)}>
          <DerivedWorking view={view} operation={operation.id} characteristic={c.id} station={opened} />
        </Overlay>
      )}
      <div class="buttons pad">
        {sources.map(({ source, read }) => (
          <a key={source.id} class="button" href={`/survey/${read}/${source.id}`}>
            {source.name}
          </a>
        ))}
        {changed.map((id) => (
          <a key={id} class="button" href={`/change/${operation.id}/${id}`}>
            Control chart of the change
          </a>
        ))}
      </div>
    </Sheet>
  );
}
