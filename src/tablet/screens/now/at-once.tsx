import { roundsNow } from '../../../../shared/logbook/state/rounds-now.ts';
import type { FindingFacts, HeatFacts, HoldFacts, NowShard, WorkFacts } from '../../app/now-shard.ts';
import { readingLog } from '../../app/tablet.ts';
import { now } from '../../app/time.ts';
import { Gate, gateWord } from '../../parts/gate.tsx';
import { Sign } from '../../parts/icons.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { dueWords } from '../../shared-screens/due-words.ts';
import { FindingList } from '../../shared-screens/finding-list.tsx';
import { HandoverWaits } from './handover-waits.tsx';

export { NoteLine } from './note-line.tsx';

import { ArrangementsLine } from './arrangements-line.tsx';

/** The work of the first screen as it was kept, while the log is being read. */
export function WorkAtOnce({ shard, waits }: { shard: NowShard; waits: boolean }) {
  const due = shard.heat !== null;
  return (
    <>
      <HandoverWaits handovers={shard.handovers} />
      {shard.heat && <DueAtOnce shard={shard} heat={shard.heat} waits={waits} />}
      {shard.next && <NextAtOnce work={shard.next} waits={waits || due} />}
      <ArrangementsLine open={shard.arrangements} zone={shard.frame} />
      {shard.also.length > 0 && <AlsoAtOnce work={shard.also} more={shard.alsoMore} />}
    </>
  );
}

/** The hold points and findings of the first screen as they were kept. */
export function AheadAtOnce({ shard }: { shard: NowShard }) {
  return (
    <>
      <StillReading />
      {shard.holds.map((hold) => (
        <HoldAtOnce key={hold.id} hold={hold} />
      ))}
      <FindingsAtOnce findings={shard.findings} more={shard.findingsMore} />
    </>
  );
}

function StillReading() {
  const { done, of } = readingLog.value ?? { done: 0, of: 0 };
  return (
    <Sheet title="The log is being read" aside={of > 0 ? `${done} of ${of}` : undefined}>
      <div class="pad reading-log">
        <progress value={done} max={of || 1} aria-label="Reading the log" />
        <p class="small dim">
          This screen stands as the log was left. Notes are saved at once; other screens open when it is read.
        </p>
      </div>
    </Sheet>
  );
}

function DueAtOnce(props: { shard: NowShard; heat: HeatFacts; waits: boolean }) {
  const { heat, shard, waits } = props;
  const now_ms = now.value.getTime();
  const rounds = roundsNow({ ended_ms: null, rounds: heat.rounds, walked: [] }, now_ms);
  const round = rounds.current ?? rounds.next;
  if (!round) return null;
  const missed = heat.missed + rounds.missed.length;
  return (
    <Sheet graduated={!waits} label="Due round" class="now-next">
      <div class="now-words">
        <h2>Round {round.number}</h2>
        <p class="now-step">{dueWords(shard.frame, rounds, now_ms)}</p>
        {missed > 0 && <p>{missed === 1 ? '1 round was missed.' : `${missed} rounds were missed.`}</p>}
      </div>
      <a class={`button wide ${waits ? '' : 'main'}`} href={`/furnace/${heat.operation}/round`}>
        {rounds.current ? 'Start the round' : 'Read the channels now'}
      </a>
    </Sheet>
  );
}

function NextAtOnce({ work, waits }: { work: WorkFacts; waits: boolean }) {
  return (
    <Sheet graduated={!waits} label="Next" class="now-next">
      <div class="now-words">
        <p class="small dim">{work.lead}</p>
        <h2>{work.title}</h2>
        <p class="now-step">{work.step}</p>
        {work.cautions && (
          <p class="now-cautions small">
            <Sign sign="warning" />
            <span>{work.cautions}</span>
          </p>
        )}
      </div>
      <a class={`button wide ${waits ? '' : 'main'}`} href={work.href}>
        {work.button}
      </a>
    </Sheet>
  );
}

function AlsoAtOnce({ work, more }: { work: readonly WorkFacts[]; more: number }) {
  return (
    <Sheet title="Also open" aside={more > 0 ? `${more} more in the sequence` : undefined}>
      <ul class="rows">
        {work.map(({ id, title, step }) => (
          <li key={id}>
            <a class="row" href={`/sequence/${id}`}>
              <span class="n now-id">{id}</span>
              <span class="grow">
                <b>{title}</b>
                <span class="second small dim">{step}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

function HoldAtOnce({ hold }: { hold: HoldFacts }) {
  const { id, name, status, words, lines, more } = hold;
  return (
    <Sheet title={status === 'in-doubt' ? 'Hold point in doubt' : 'Next hold point'}>
      <a class="row" href={`/hold/${id}`}>
        <Gate state={status} size={48} decorative />
        <span class="grow">
          <b class="now-lead">
            {id} {name}
          </b>
          <span class="second small dim">
            {gateWord(status)}, {words}
          </span>
        </span>
      </a>
      <ul class="rows now-conditions">
        {lines.map((line) => (
          <li key={line} class="small">
            {line}
          </li>
        ))}
        {more > 0 && <li class="small dim">and {more} more</li>}
      </ul>
    </Sheet>
  );
}

function FindingsAtOnce({ findings, more }: { findings: readonly FindingFacts[]; more: number }) {
  return (
    <Sheet title="Findings" aside={findings.length === 0 ? 'none open' : `${findings.length + more} open`}>
      {findings.length === 0 && <p class="pad dim">No finding waits for a decision.</p>}
      <FindingList findings={findings} />
    </Sheet>
  );
}
