import type { Finding, Rule } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById, operationById, stationsOf } from '../../../../shared/plan/lookup.ts';
import { roleName } from '../../app/words.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';
import { ownerWords } from '../../shared-screens/owner-words.ts';
import { SaidBy } from '../../shared-screens/said-by.tsx';
import { AlarmWorking } from './alarm-working.tsx';

/** What was found, where, by which rule, and from which entries. */
export function FindingFacts({ view, finding }: { view: View; finding: Finding }) {
  const { operation, severity, blocks } = finding;
  const meaning = view.plan.severities.find((s) => s.id === severity)?.meaning;
  const hold = view.plan.holds.find((h) => h.id === blocks);
  return (
    <Sheet title={finding.title}>
      <dl class="finding-facts">
        {finding.words && (
          <>
            <dt>What</dt>
            <dd>{finding.words}</dd>
          </>
        )}
        <dt>Where</dt>
        <dd>
          operation {operation}, {operationById(view.plan, operation)?.name}
          {placeWords(view, finding)}
        </dd>
        <dt>How it came</dt>
        <dd>{ruleWords[finding.rule]}</dd>
        <dt>Severity</dt>
        <dd>
          <b>{severity}</b>
          {meaning && `: ${meaning}`}
        </dd>
        {finding.alarm && (
          <>
            <dt>Answered by</dt>
            <dd>
              {finding.alarm.owner ? roleName(finding.alarm.owner) : 'whoever sees it'}
              {finding.alarm.call && `; call ${finding.alarm.call}`}
            </dd>
          </>
        )}
        <dt>Owner</dt>
        <dd>{ownerWords(view, finding)}</dd>
        <dt>Blocks</dt>
        <dd>{blocks ? `hold point ${blocks} ${hold?.name ?? ''}` : 'no hold point by itself'}</dd>
        <dt>State</dt>
        <dd>
          <b>{finding.state}</b>
          {`: ${stateWords[finding.state]}`}
        </dd>
      </dl>
      {finding.alarm && <AlarmWorking view={view} name={finding.title} alarm={finding.alarm} />}
      <Causes view={view} hashes={finding.causes} />
    </Sheet>
  );
}

function placeWords(view: View, { characteristic, station }: Finding): string {
  if (!characteristic) return '';
  const planned = characteristicById(view.plan, characteristic);
  const label = planned && stationsOf(view.plan, planned).find((s) => s.id === station)?.label;
  const at = station && station !== 'one' ? `, ${label ?? station}` : '';
  return `; ${planned?.name ?? characteristic}${at}`;
}

const ruleWords: { readonly [R in Rule | 'by-hand']: string } = {
  outside: 'A reading lies outside its limits, by more than its uncertainty.',
  'not-proven': 'A reading lies so near its limit that its uncertainty leaves it open.',
  'answered-no': 'An item of the check sheet was answered no.',
  'two-readings': 'Two readings stand at one station, and neither says that it replaces the other.',
  'instrument-out': 'The instrument was out of calibration when it was used.',
  'instrument-bad': 'The instrument was found bad: what was read with it since its last good check is in question.',
  late: 'It was written more than 4 hours after it was seen.',
  'out-of-sequence': 'Work was recorded earlier than the order of the plan allows; the reason stands in the finding.',
  'passed-unreleased': 'Work was recorded past a hold point that was not released.',
  'another-instrument': 'Two passes that are compared were read with different instruments.',
  'behind-doubt': 'Work stands recorded behind a hold point whose release has fallen into doubt.',
  'finished-short': 'A lead called the operation finished while something of it was missing.',
  'verdict-differs': 'The verdict shown at the time differs from the one worked out now.',
  'derived-outside': 'A value worked out from readings is not within its limits.',
  'missed-round': 'Rounds of the furnace fell due and none was written before the next.',
  'overdue-arrangement': 'A temporary arrangement ran past its end, and nobody had ended or extended it.',
  alarm: 'An alarm of the plan held, worked out from the rounds and levels that were written.',
  'by-hand': 'A person raised it.',
};

const stateWords: { readonly [S in Finding['state']]: string } = {
  open: 'nobody has decided what becomes of it',
  'in work': 'decided; the work is to be done and seen',
  accepted: 'decided; it may stay as it is',
  closed: 'nothing more is to do',
};

const MOST = 12;

function Causes({ view, hashes }: { view: View; hashes: readonly string[] }) {
  const kept = hashes.flatMap((hash) => view.log.get(hash) ?? []);
  if (kept.length === 0) return null;
  return (
    <ul class="rows" aria-label="Entries that it comes from">
      {kept.slice(0, MOST).map((entry) => (
        <li key={entry.hash}>
          <a class="row" href={`/record/${entry.hash}`}>
            <span class="grow">
              {kindName(entry.entry.kind)}: {entryWords(view, entry)}
              <SaidBy view={view} kept={entry} />
            </span>
          </a>
        </li>
      ))}
      {kept.length > MOST && <li class="small dim">and {kept.length - MOST} more entries</li>}
    </ul>
  );
}
