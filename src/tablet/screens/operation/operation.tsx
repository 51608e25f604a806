import { useEffect } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { operationState } from '../../../../shared/logbook/state/sequence.ts';
import { isReleased } from '../../../../shared/logbook/state/signatures.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { operationById } from '../../../../shared/plan/lookup.ts';
import type { Operation } from '../../../../shared/plan/schema.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { useDraft } from '../../app/use-draft.ts';
import { Notes } from '../../shared-screens/notes.tsx';
import { ActionBar } from './action-bar.tsx';
import { CheckSheet } from './check-sheet.tsx';
import { FindingsHere } from './findings-here.tsx';
import { FinishedSheet } from './finished-sheet.tsx';
import { HeadSheet } from './head-sheet.tsx';
import { MeasuresSheet } from './measures-sheet.tsx';
import { PhotosSheet } from './photos-sheet.tsx';
import { PlanSheets } from './plan-sheets.tsx';
import { emptySheet, type SheetDraft } from './sheet-draft.ts';
import { useAnswers } from './use-answers.ts';
import './operation.css';

/** One operation: what it needs, its check sheet, what is measured, and its finish. */
export function OperationScreen() {
  const { operation: id = '' } = useRoute().params;
  const v = view.value;
  if (!v) return null;
  const operation = operationById(v.plan, id);
  return operation ? <Work key={id} view={v} operation={operation} /> : <Unknown id={id} />;
}

function Unknown({ id }: { id: string }) {
  return (
    <Screen place="sequence" name="Operation">
      <div class="sheet empty">
        <p>The plan has no operation “{id}”.</p>
        <a class="button" href="/sequence">
          All operations
        </a>
      </div>
    </Screen>
  );
}

function Work({ view: v, operation }: { view: View; operation: Operation }) {
  const state = operationState(v, operation, isReleased(v));
  const draft = useDraft<SheetDraft>(`sheet/${operation.id}`, emptySheet);
  const saving = useAnswers(v, state, draft);
  const { ready } = draft;
  useEffect(() => {
    if (ready && location.hash) document.getElementById(location.hash.slice(1))?.scrollIntoView();
  }, [ready]);
  const stage = v.plan.stages.find((s) => s.id === operation.stage)?.name ?? '';
  return (
    <Screen
      place="sequence"
      name="Operation"
      operation={operation.name}
      detail={`operation ${operation.id} · ${stage}`}
      work="operation-work"
    >
      <div class="stack operation-main">
        <HeadSheet view={v} state={state} />
        <CheckSheet view={v} state={state} draft={draft} saving={saving} />
        <MeasuresSheet view={v} operation={operation} />
        <PhotosSheet view={v} operation={operation} />
        <PlanSheets operation={operation} />
      </div>
      <div class="stack operation-side">
        <FinishedSheet view={v} state={state} />
        <FindingsHere view={v} operation={operation} />
        <Notes view={v} about={{ operation: operation.id }} />
      </div>
      <ActionBar view={v} state={state} saving={saving} />
    </Screen>
  );
}
