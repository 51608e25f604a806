import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { CoreLayer } from '../../../../../shared/logbook/state/core-marks.ts';
import { coreSample } from '../../../../../shared/logbook/state/core-sample.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { coresAt } from '../../../../../shared/plan/core-stations.ts';
import { stationsByCore } from '../../../../../shared/plan/cores.ts';
import { ChangeLink } from '../change-link.tsx';
import { SurveyBar } from '../survey-bar.tsx';
import type { StationItem, Survey } from '../survey-of.ts';
import { isPinPull, PinLift } from './core-facts.tsx';
import { CoresSheet } from './cores-sheet.tsx';
import { LayerChoice } from './layer-choice.tsx';
import { SampleButton } from './sample.tsx';
import { Seven } from './seven.tsx';
import { useCoreStates } from './use-core-states.ts';

/** A survey that is read core by core: the map, and around the chosen core the gaps to those beside it. */
export function CoreSurvey(props: {
  view: View;
  survey: Survey;
  item: StationItem;
  onChoose: (station: string) => void;
  onWorking: () => void;
  /** Stands beside the working. */
  children?: ComponentChildren;
}) {
  const { view, survey, item, onChoose, onWorking } = props;
  const { characteristic, operation } = survey;
  const layers = useMemo((): CoreLayer[] => [{ kind: 'characteristic', characteristic }], [characteristic]);
  // Of the two beside a gap the one that was tapped stays in the middle.
  const [tapped, tap] = useState<string | null>(null);
  const at = coresAt(item.station.id);
  const address = tapped !== null && at.includes(tapped) ? tapped : at[0]!;
  const other = at.find((a) => a !== address) ?? null;
  const stations = stationsByCore(view.plan, characteristic);
  const items = useMemo(() => new Map(survey.items.map((i) => [i.station.id, i])), [survey]);
  /** Of several stations the first at which nothing stands, and of those that a sample asks for. */
  const first = (ids: readonly string[]): string | undefined => {
    const open = ids.filter((id) => (items.get(id)?.value ?? null) === null);
    return open.find((id) => survey.walk.includes(items.get(id)!)) ?? open[0] ?? ids[0];
  };
  const choose = (core: string) => {
    const id = first((stations.get(core) ?? []).map((s) => s.id));
    if (id === undefined) return;
    tap(core);
    onChoose(id);
  };
  const states = useCoreStates(view, operation.id, layers);
  const sample = coreSample(view, characteristic, operation.id);
  return (
    <div class="survey-seen">
      <SurveyBar view={view} operation={operation}>
        <LayerChoice view={view} operation={operation} chosen={characteristic.id} address={address} />
        <ChangeLink view={view} survey={survey} />
      </SurveyBar>
      <CoresSheet
        view={view}
        states={states}
        chosen={other === null ? [address] : [address, other]}
        onChoose={choose}
        onEnter={enterField}
      >
        <Seven
          view={view}
          operation={operation.id}
          gaps={other === null ? null : characteristic}
          states={states}
          address={address}
          other={other}
          onBeside={(beside) => {
            if (other === null) return choose(beside);
            const between = (stations.get(beside) ?? []).filter((s) => coresAt(s.id).includes(address));
            const id = first(between.map((s) => s.id));
            tap(address);
            if (id !== undefined) onChoose(id);
          }}
        />
        {sample && <SampleButton view={view} survey={survey} sample={sample} />}
        {isPinPull(characteristic) && <PinLift view={view} address={address} least_N={item.inForce.lower} />}
        <div class="cores-more">
          <button type="button" class="button" onClick={onWorking}>
            Working
          </button>
          {props.children}
        </div>
      </CoresSheet>
    </div>
  );
}

const enterField = () =>
  document.querySelector<HTMLInputElement>('[data-target="reading"] input')?.focus({ preventScroll: true });
