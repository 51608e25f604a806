import { useRoute } from 'preact-iso';
import { type Finding, findingById } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { Notes } from '../../shared-screens/notes.tsx';
import { Decisions } from './decisions.tsx';
import { FindingFacts } from './finding-facts.tsx';
import { PhotosOfFinding } from './photos-of-finding.tsx';
import { WhatNext } from './what-next.tsx';
import './findings.css';

/** One finding: what it is, what was decided, and what becomes of it. */
export function FindingScreen() {
  const { finding: id = '' } = useRoute().params;
  const v = view.value;
  if (!v) return null;
  const finding = findingById(v, id);
  return finding ? <Known key={id} view={v} finding={finding} /> : <Gone judged={v.judge !== null} />;
}

function Known({ view: v, finding }: { view: View; finding: Finding }) {
  return (
    <Screen
      place="now"
      name="Finding"
      operation={finding.title}
      detail={`operation ${finding.operation} · ${finding.severity} · ${finding.state}`}
      work="work-two finding"
    >
      <div class="stack">
        <FindingFacts view={v} finding={finding} />
        <PhotosOfFinding view={v} finding={finding} />
        <Decisions view={v} finding={finding} />
        <Notes view={v} about={{ finding: finding.id }} />
      </div>
      <div class="stack">
        <WhatNext view={v} finding={finding} />
      </div>
    </Screen>
  );
}

/** A finding that a rule no longer makes, e.g. since its entry was struck. */
function Gone({ judged }: { judged: boolean }) {
  return (
    <Screen place="now" name="Finding">
      <div class="sheet empty">
        <p>
          {judged
            ? 'This finding does not stand any more: what caused it was struck or answered anew. The record keeps it all.'
            : 'The findings are being worked out.'}
        </p>
        <a class="button" href="/findings">
          All findings
        </a>
      </div>
    </Screen>
  );
}
