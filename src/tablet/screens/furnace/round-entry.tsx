import { useRef, useState } from 'preact/hooks';
import { thermocoupleType } from '../../../../shared/logbook/state/channels.ts';
import { groupName } from '../../../../shared/logbook/state/group-name.ts';
import { settings } from '../../app/settings.ts';
import { clockTime, dayAndTime, now } from '../../app/time.ts';
import { useTypingAnywhere } from '../../app/use-typing-anywhere.ts';
import { Figure } from '../../parts/figure.tsx';
import { formatFigure } from '../../parts/format-figure.ts';
import { Keypad } from '../../parts/keypad.tsx';
import { ReadingField } from '../../parts/reading-field.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { ChannelSheet } from './channel-sheet.tsx';
import { EMF } from './round-input.ts';
import { RoundOptions } from './round-options.tsx';
import { SaveRound } from './save-round.tsx';
import type { Awake } from './use-awake.ts';
import type { Round } from './use-round.ts';

const HOUR_MS = 3_600_000;

/** Typing one channel after the other: field, what it is compared with, question, keypad. */
export function RoundEntry({ round, awake }: { round: Round; awake: Awake }) {
  const box = useRef<HTMLDivElement>(null);
  const [open, setOpen] = useState<'channel' | 'options' | null>(null);
  const { item, walk, next, saving } = round;
  const { channel } = item;
  useTypingAnywhere(() => box.current?.querySelector('input')?.focus({ preventScroll: true }), round.enter);
  return (
    <Sheet
      graduated
      class="round-entry-sheet"
      title={<span class="n">{channel.id}</span>}
      beside={channel.where}
      aside={
        <span>
          <b class="n">{walk.done}</b> of <span class="n">{walk.items.length}</span>
        </span>
      }
    >
      <div ref={box} class="round-entry">
        <Stale round={round} />
        <div onInputCapture={(e) => round.keyedAt(e.timeStamp)} onKeyDownCapture={(e) => round.keyedAt(e.timeStamp)}>
          <ReadingField
            label={`Channel ${channel.id}`}
            text={item.text}
            onText={round.type}
            onEnter={round.enter}
            unit={item.unit}
            error={round.shownFault ?? undefined}
            focusKey={channel.id}
            placeholder={
              item.state === 'dead' ? 'dead' : item.summed ? formatFigure(item.value, { decimals: 1 }) : undefined
            }
          />
        </div>
        <Beside round={round} />
        <div class="round-words" role="status">
          <Words round={round} awake={awake} />
        </div>
        <div class="round-keys">
          {thermocoupleType(channel) && (
            <button type="button" class="button" onClick={round.turnUnit}>
              Type {item.unit === EMF ? settings.value.temperatureUnit : EMF}
            </button>
          )}
          {next && !item.done && (
            <button type="button" class="button" onClick={round.skip}>
              Skip
            </button>
          )}
          <button type="button" class="button" onClick={() => setOpen('options')}>
            {round.draft.paper ? 'From paper' : round.draft.observer ? 'Read by …' : 'Who, paper'}
          </button>
        </div>
        <Keypad
          onKey={round.press}
          onEnter={round.enter}
          enterTarget={saving ? 'saving' : next ? `to ${next.channel.id}` : 'last one'}
          extraLabel={item.state === 'good' ? 'Channel dead' : `Channel ${item.state}`}
          onExtra={() => setOpen('channel')}
          mirrored={settings.value.hand === 'left'}
          decimalMark={settings.value.decimalMark}
        />
        <SaveRound round={round} />
      </div>
      {open === 'channel' && <ChannelSheet key={channel.id} round={round} onClose={() => setOpen(null)} />}
      {open === 'options' && <RoundOptions round={round} onClose={() => setOpen(null)} />}
    </Sheet>
  );
}

/** A round that was begun long ago and not saved: it keeps the time at which it was read. */
function Stale({ round }: { round: Round }) {
  const { begunAt, paper } = round.draft;
  if (begunAt === null || paper !== null || now.value.getTime() - Date.parse(begunAt) < HOUR_MS) return null;
  const { timeZone, dayOne } = round.view.genesis;
  return (
    <div class="redo-line">
      <p class="small grow not-proven">
        Begun {dayAndTime(begunAt, dayOne, timeZone)} and not saved. It keeps that time.
      </p>
      <button type="button" class="button" onClick={round.discard}>
        Throw away
      </button>
    </div>
  );
}

interface Fact {
  readonly name: string;
  readonly value: number | null;
  readonly unit: string;
  readonly signed?: boolean;
}

/** Last, planned, off the plan and rate, each under its name with its unit. */
function Beside({ round }: { round: Round }) {
  const { unit } = round.item.channel;
  return (
    <dl class="beside round-beside">
      {factsOf(round).map(({ name, value, unit: of, signed }) => (
        <div key={name}>
          <dt class="note">
            {name} {of === unit && name !== 'now' ? '' : of}
          </dt>
          <dd>
            <Figure value={value} decimals={of === 'rpm' ? 2 : 1} signed={signed} />
          </dd>
        </div>
      ))}
    </dl>
  );
}

function factsOf({ beside, item, view }: Round): Fact[] {
  const { unit } = item.channel;
  const at = beside.last_ms === null ? 'last' : clockTime(new Date(beside.last_ms), view.genesis.timeZone);
  const facts: Fact[] = [{ name: at, value: beside.last, unit }];
  if (unit !== '°C') return facts;
  if (item.unit !== unit) facts.push({ name: 'now', value: item.value, unit });
  if (beside.planned_C !== null)
    facts.push(
      { name: 'planned', value: beside.planned_C, unit },
      { name: 'off', value: beside.deviation_K, unit: 'K', signed: true },
    );
  return [...facts, { name: 'rate', value: beside.rate_K_h, unit: 'K/h', signed: true }];
}

function Words({ round, awake }: { round: Round; awake: Awake }) {
  const { item, asking, beside, walk, draft, problem } = round;
  if (problem)
    return (
      <p class="small error">
        <b>Not saved: {problem}</b> What you typed is still here.
      </p>
    );
  if (asking && beside.jump) return <Asked round={round} />;
  if (item.state !== 'good')
    return (
      <p class="small not-proven">
        {item.state === 'dead' ? 'Dead' : 'Suspect, not in means'}
        {item.reason && `: ${item.reason}`}
        {item.substitute && `. ${item.substitute} stands in`}
      </p>
    );
  if (draft.stands[item.channel.id] === item.text && item.text !== '') return <p class="small">It stands as typed.</p>;
  if (item.summed) return <p class="small">The sum of the five zones; type another figure if the panel shows one.</p>;
  if (item.text !== '' && item.junction_C !== null)
    return <p class="small dim">Reference junction {formatFigure(item.junction_C, { decimals: 1 })} °C.</p>;
  if (beside.control)
    return (
      <p class="small dim">
        Control channel, band ±{walk.planned.band_K} K about {formatFigure(walk.planned.planned_C, { decimals: 1 })} °C.
      </p>
    );
  if (awake === 'refused' || awake === 'unknown to this browser')
    return (
      <p class="small dim">
        This browser does not keep the screen awake: touch it now and then. What is typed stays in any case.
      </p>
    );
  const group = groupName(item.channel.group);
  return (
    <p class="small dim">
      {group[0]!.toUpperCase() + group.slice(1)}. {awake === 'awake' && 'The screen stays awake during the round.'}
    </p>
  );
}

/** The question about a jump: it waits, and the typed text stays. */
function Asked({ round }: { round: Round }) {
  const { item, beside } = round;
  const jump = beside.jump!;
  const by = formatFigure(Math.abs(jump.by_K), { decimals: 1 });
  const { swapped } = jump;
  return (
    <div class="asked-jump">
      <p class="small">
        <b>
          {item.text}
          {swapped ? ` or ${swapped}?` : '?'}
        </b>{' '}
        {by} K {jump.by_K > 0 ? 'above' : 'below'} its last reading. Expected near{' '}
        {formatFigure(jump.expected_C, { decimals: 0 })} °C. Read it again.
      </p>
      <div class="asked-keys">
        <button type="button" class="button" onClick={round.stand}>
          {item.text} stands
        </button>
        <button type="button" class="button" onClick={() => round.type(swapped ?? '')}>
          {swapped ? `It is ${swapped}` : 'Change it'}
        </button>
      </div>
    </div>
  );
}
