import { useEffect, useMemo } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { coreCharacteristics } from '../../../../../shared/logbook/state/core-marks.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { CORES } from '../../../../../shared/plan/core-stations.ts';
import { coreByAddress, coresOf } from '../../../../../shared/plan/cores.ts';
import type { Operation } from '../../../../../shared/plan/schema.ts';
import { Screen } from '../../../app/screen.tsx';
import { useDraft } from '../../../app/use-draft.ts';
import { SurveyBar } from '../survey-bar.tsx';
import { ALL, layersOf } from './core-layers.ts';
import { CorePanel } from './core-panel.tsx';
import { CoresSheet } from './cores-sheet.tsx';
import { LayerChoice } from './layer-choice.tsx';
import { Seven } from './seven.tsx';
import { type CoreStates, useCoreStates } from './use-core-states.ts';

const EMPTY = { address: null as string | null, serial: '' };

/** All cores of an operation on the map, and one of them with all that is measured and looked at. */
export function CoresScreen({ view, operation }: { view: View; operation: Operation }) {
  const draft = useDraft(`cores/${operation.id}`, EMPTY, { holds: ({ serial }) => serial !== '' });
  const { value, change, ready } = draft;
  useAskedCore(view, ready, (address) => change({ address, serial: '' }));
  const layers = useMemo(() => layersOf(view, operation), [view, operation]);
  const states = useCoreStates(view, operation.id, layers);
  const cores = coresOf(view.plan);
  const address = value.address ?? cores[0]?.address;
  if (address === undefined || !ready) return null;
  const choose = (core: string) => change({ address: core, serial: '' });
  const gaps = coreCharacteristics(view, operation).find((c) => view.plan.pairSets?.[c.stations ?? '']?.of === CORES);
  return (
    <Screen
      place="survey"
      name="Survey"
      operation="Cores"
      detail={`Operation ${operation.id} · plan revision ${view.plan.revision}`}
      work="survey-work survey-cores"
    >
      <div class="survey-seen">
        <SurveyBar view={view} operation={operation}>
          <LayerChoice view={view} operation={operation} chosen={ALL} address={address} />
        </SurveyBar>
        <CoresSheet view={view} states={states} chosen={[address]} onChoose={choose}>
          <Seven
            view={view}
            operation={operation.id}
            gaps={gaps ?? null}
            states={states}
            address={address}
            other={null}
            onBeside={choose}
          />
        </CoresSheet>
      </div>
      <div class="survey-hand">
        <CorePanel
          view={view}
          operation={operation}
          address={address}
          serial={value.serial}
          onSerial={(serial) => change({ serial })}
          next={states && nextCore(view, states, address)}
          onNext={choose}
        />
      </div>
    </Screen>
  );
}

/** The next core in the order of the walk of which something is asked that is not there, round to the one before. */
function nextCore(view: View, states: CoreStates, from: string): string | null {
  const cores = coresOf(view.plan);
  const at = cores.findIndex((c) => c.address === from);
  const order = [...cores.slice(at + 1), ...cores.slice(0, at)];
  const next = order.find(({ address }) => ['missing', 'begun'].includes(states.get(address)?.mark ?? ''));
  return next?.address ?? null;
}

/** The core that the link names is worked at first; the address of the page then lets go of it. */
function useAskedCore(view: View, ready: boolean, choose: (address: string) => void): void {
  const { query, path, route } = useLocation();
  const asked = query.core;
  useEffect(() => {
    if (!ready || asked === undefined) return;
    if (coreByAddress(view.plan, asked)) choose(asked);
    route(path, true);
  }, [ready, asked]);
}
