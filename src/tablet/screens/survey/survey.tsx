import { useEffect, useMemo, useState } from 'preact/hooks';
import { lazy, useLocation, useRoute } from 'preact-iso';
import { judge } from '../../../../shared/logbook/state/derived.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById, operationById } from '../../../../shared/plan/lookup.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { now } from '../../app/time.ts';
import type { Draft } from '../../app/use-draft.ts';
import { Overlay } from '../../parts/overlay.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { useAfterFrame } from '../../parts/use-after-frame.ts';
import { ChangeLink } from './change-link.tsx';
import { ALL, hasCores, isCoreSurvey } from './cores/core-layers.ts';
import { DerivedSheet } from './derived-sheet.tsx';
import { EntrySheet } from './entry-sheet.tsx';
import { type PassDraft, usePassDraft } from './pass-draft.ts';
import { PasteButton } from './paste/paste-button.tsx';
import { RoundSheet } from './round-sheet.tsx';
import { StationPhotos } from './station-photos.tsx';
import { StationsSheet } from './stations-sheet.tsx';
import './survey.css';
import { SurveyBar } from './survey-bar.tsx';
import { type StationItem, type Survey as SurveyModel, surveyOf, wallOf } from './survey-of.ts';
import { currentItem, usePass } from './use-pass.ts';
import { type Shown, WallSheet, WallSwitch } from './wall-sheet.tsx';
import { Working } from './working-sheet.tsx';

// The map of the cores comes with the first survey that needs it.
const CoresScreen = lazy(() => import('./cores/cores-screen.tsx').then((m) => m.CoresScreen));
const CoreSurvey = lazy(() => import('./cores/core-survey.tsx').then((m) => m.CoreSurvey));

/** One survey: a characteristic at its stations in one operation. */
export function Survey() {
  const { params } = useRoute();
  const { operation = '', characteristic = '' } = params;
  const open = view.value;
  if (!open) return null;
  const planned = operationById(open.plan, operation);
  if (planned && characteristic === ALL && hasCores(open, planned))
    return <CoresScreen key={operation} view={open} operation={planned} />;
  if (!planned || !characteristicById(open.plan, characteristic))
    return (
      <Screen place="survey" name="Survey">
        <div class="sheet error" role="alert">
          <b>The plan in force has no such survey</b>
          <p>
            It has no characteristic {characteristic} in operation {operation}. Nothing that was recorded is lost: the
            record has it.
          </p>
        </div>
        <a class="button" href="/survey">
          All surveys
        </a>
      </Screen>
    );
  return (
    <OneSurvey
      key={`${operation} ${characteristic}`}
      view={open}
      operation={operation}
      characteristic={characteristic}
    />
  );
}

/** A survey of thousands of stations that is opened again while the log stands still is there at once. */
const kept = new WeakMap<View, Map<string, SurveyModel>>();

function surveyKept(view: View, operation: string, characteristic: string, named: readonly string[]): SurveyModel {
  const known = kept.get(view) ?? new Map<string, SurveyModel>();
  kept.set(view, known);
  const key = [operation, characteristic, ...named].join(' ');
  const survey = known.get(key) ?? surveyOf(view, operation, characteristic, named)!;
  known.set(key, survey);
  return survey;
}

function OneSurvey({ view, operation, characteristic }: { view: View; operation: string; characteristic: string }) {
  const kept = usePassDraft(operation, characteristic);
  const { named } = kept.value;
  const survey = useMemo(
    () => surveyKept(view, operation, characteristic, named),
    [view, operation, characteristic, named],
  );
  useAskedStation(survey, kept);
  const item = kept.ready ? currentItem(survey, kept.value) : null;
  const derived = survey.characteristic.kind === 'derived' ? judge.derive(view, characteristic, operation) : null;
  const entering = item !== null && (item.value === null || kept.value.redo[item.station.id] !== undefined);
  return (
    <Screen
      place="survey"
      name="Survey"
      operation={survey.characteristic.name}
      detail={`Operation ${operation} · plan revision ${view.plan.revision}`}
      work={derived ? '' : `survey-work ${workClass(view, survey)}`}
      keying={derived === null && entering}
    >
      {derived ? (
        <>
          <SurveyBar view={view} operation={survey.operation} />
          <DerivedSheet view={view} survey={survey} values={derived} />
        </>
      ) : item ? (
        <Stations view={view} survey={survey} item={item} kept={kept} />
      ) : (
        <NoStation view={view} survey={survey} kept={kept} />
      )}
    </Screen>
  );
}

const workClass = (view: View, survey: SurveyModel): string =>
  isCoreSurvey(view, survey) ? 'survey-cores' : wallOf(survey.items) ? 'survey-wall' : 'survey-list';

/** The station that the link names is worked on first; the address then lets go of it. */
function useAskedStation({ items }: SurveyModel, { ready, change }: Draft<PassDraft>): void {
  const { query, path, route } = useLocation();
  const asked = query.station;
  useEffect(() => {
    if (!ready || asked === undefined) return;
    if (items.some((i) => i.station.id === asked)) change({ station: asked });
    route(path, true);
  }, [ready, asked]);
}

function Stations(props: { view: View; survey: SurveyModel; item: StationItem; kept: Draft<PassDraft> }) {
  const { view, survey, item, kept } = props;
  const pass = usePass(view, survey, item, kept, now.value);
  const [working, setWorking] = useState(false);
  const [shown, setShown] = useState<Shown>('now');
  const station = item.station.id;
  const byCore = isCoreSurvey(view, survey);
  // What does not change while a figure is typed is not drawn again with every key.
  const seen = useMemo(() => {
    if (byCore)
      return (
        <CoreSurvey view={view} survey={survey} item={item} onChoose={pass.choose} onWorking={() => setWorking(true)}>
          <PasteButton view={view} survey={survey} pass={kept.latest} />
        </CoreSurvey>
      );
    const wall = wallOf(survey.items);
    return (
      <div class="survey-seen">
        <SurveyBar view={view} operation={survey.operation}>
          {wall && <WallSwitch view={view} survey={survey} shown={shown} onShow={setShown} />}
          <ChangeLink view={view} survey={survey} />
          <PasteButton view={view} survey={survey} pass={kept.latest} />
          <StationPhotos view={view} survey={survey} item={item} />
        </SurveyBar>
        {wall ? (
          <WallSheet view={view} survey={survey} wall={wall} station={station} shown={shown} onChoose={pass.choose} />
        ) : (
          <StationsSheet
            view={view}
            survey={survey}
            station={station}
            onChoose={pass.choose}
            onName={naming(survey, kept)}
          />
        )}
      </div>
    );
  }, [view, survey, station, shown]);
  // What stands behind the work comes when the work has been drawn.
  const painted = useAfterFrame();
  const round = useMemo(() => {
    if (!painted) return null;
    const wall = wallOf(survey.items);
    return wall && <RoundSheet view={view} survey={survey} wall={wall} item={item} />;
  }, [view, survey, station, painted]);
  return (
    <>
      {seen}
      <div class="survey-hand">
        <EntrySheet pass={pass} />
        {!byCore && (
          <button type="button" class="button working-button" onClick={() => setWorking(true)}>
            Working
          </button>
        )}
      </div>
      {!byCore && (
        <div class="survey-behind">
          {round}
          <Sheet class="working-sheet" title="Working" aside={item.station.label}>
            {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and keys must reach it */}
            <div class="pad working-scroll" tabIndex={0}>
              {painted && <Working pass={pass} />}
            </div>
          </Sheet>
        </div>
      )}
      {working && (
        <Overlay title={`Working, ${item.station.label}`} onClose={() => setWorking(false)}>
          <Working pass={pass} />
        </Overlay>
      )}
    </>
  );
}

/** A person names the stations of a characteristic that has one for each crack, joint, lot or the like. */
function naming({ characteristic }: SurveyModel, kept: Draft<PassDraft>): ((name: string) => void) | null {
  if (characteristic.each === undefined) return null;
  return (name) => kept.change({ named: [...new Set([...kept.latest().named, name])], station: name });
}

/** Nothing to stand on yet: the draft is being read, or no station is named. */
function NoStation({ view, survey, kept }: { view: View; survey: SurveyModel; kept: Draft<PassDraft> }) {
  return (
    <div class="survey-seen">
      <SurveyBar view={view} operation={survey.operation} />
      {kept.ready && (
        <StationsSheet
          view={view}
          survey={survey}
          station={null}
          onChoose={() => undefined}
          onName={naming(survey, kept)}
        />
      )}
    </div>
  );
}
