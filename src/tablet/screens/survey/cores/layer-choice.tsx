import { useLocation } from 'preact-iso';
import { coreCharacteristics } from '../../../../../shared/logbook/state/core-marks.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { stationsByCore } from '../../../../../shared/plan/cores.ts';
import type { Operation } from '../../../../../shared/plan/schema.ts';
import { ALL, shortName } from './core-layers.ts';

/** What the map is drawn for: all that is done at the cores, or one of the things measured. The core stays chosen. */
export function LayerChoice(props: { view: View; operation: Operation; chosen: string; address: string }) {
  const { view, operation, chosen, address } = props;
  const { route } = useLocation();
  const characteristics = coreCharacteristics(view, operation);
  const go = (id: string) => {
    const c = characteristics.find((k) => k.id === id);
    const station = c && stationsByCore(view.plan, c).get(address)?.[0]?.id;
    const asked = id === ALL ? `?core=${address}` : station ? `?station=${encodeURIComponent(station)}` : '';
    route(`/survey/${operation.id}/${id}${asked}`);
  };
  return (
    <label class="layer-choice">
      <span class="hidden-text">What the map shows</span>
      <select class="input" value={chosen} onChange={(event) => go(event.currentTarget.value)}>
        <option value={ALL}>All at the cores</option>
        {characteristics.map((c) => (
          <option key={c.id} value={c.id}>
            {shortName(c.name)}
          </option>
        ))}
      </select>
    </label>
  );
}
