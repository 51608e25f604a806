import { useEffect, useRef, useState } from 'preact/hooks';
import { entriesSince } from '../../../../shared/logbook/state/handover.ts';
import type { HandoverState } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { CrossCheck } from '../../acts/handover.ts';
import { dayAndTime, now } from '../../app/time.ts';
import { ConditionMark } from '../../parts/condition-mark.tsx';
import { formatFigure } from '../../parts/format-figure.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { Answer } from './answer.tsx';
import { answerWords, Earlier } from './earlier.tsx';
import { Figures } from './figures.tsx';
import { ItemContent, type ShownItem } from './item-content.tsx';
import { ItemSheet } from './item-sheet.tsx';
import { LeadChoice, leads } from './lead-choice.tsx';
import { Paper } from './paper.tsx';
import { SignLines } from './sign-lines.tsx';
import { Steps, stepsOf } from './steps.tsx';
import { TalkItem } from './talk-item.tsx';
import { type Talk, useTalk } from './use-talk.ts';

interface Props {
  readonly view: View;
  readonly state: HandoverState;
  /** It waits for its answer, and no later one takes its place. */
  readonly open: boolean;
  readonly onAgain: () => void;
}

/** A signed handover: talked through item by item and answered, or as it was answered. */
export function OneHandover({ view, state, open, onAgain }: Props) {
  const talk = useTalk(view, state);
  const [opened, setOpened] = useState<ShownItem | null>(null);
  const { handover } = state;
  const talking = open && state.status === 'waiting';
  const { items } = handover.body;
  const list = useRef<HTMLOListElement>(null);
  useEffect(() => {
    if (list.current) showCurrent(list.current);
  }, [talk.current, talk.ready]);
  return (
    <>
      <Steps steps={stepsOf(view, state, items.filter((i) => talk.talked.has(i.item)).length)} />
      <Sheet class="ho-list" label="What is handed over">
        <ol ref={list} class="ho-items">
          {items.map((shown, i) => (
            <TalkRow
              key={shown.item}
              shown={shown}
              number={i + 1}
              talk={talk}
              current={talking && talk.current === shown.item}
              onOpen={() => setOpened(shown)}
            />
          ))}
        </ol>
        <Paper view={view} state={state} />
      </Sheet>
      <div class="ho-side">
        <Figures
          view={view}
          now_ms={now.value.getTime()}
          since={`to ${dayAndTime(handover.entry.recordedAt, view.genesis.dayOne, view.genesis.timeZone)}`}
          fresh={shiftOf(view, state)}
        />
        {open && <Since view={view} state={state} onAgain={onAgain} />}
        <Earlier view={view} except={handover.hash} />
      </div>
      <Act view={view} state={state} talk={talk} talking={talking} open={open} onAgain={onAgain} />
      {opened && (
        <ItemSheet
          view={view}
          shown={opened}
          standing={{ before: handover.body.before, handover: handover.hash }}
          talked={talk.talked.get(opened.item)}
          talkedIn={state.talkedIn.get(opened.item)}
          onAgain={
            talking && talk.talked.has(opened.item)
              ? () => {
                  talk.again(opened.item);
                  setOpened(null);
                }
              : undefined
          }
          onClose={() => setOpened(null)}
        />
      )}
    </>
  );
}

/** Brings the item that is talked through into sight: in the list where that scrolls, else on the page. */
function showCurrent(list: HTMLElement): void {
  const row = list.querySelector<HTMLElement>('[aria-current]');
  if (!row) return;
  if (list.scrollHeight > list.clientHeight) scrollIn(list, row);
  else row.scrollIntoView({ block: 'nearest' });
}

function scrollIn(list: HTMLElement, row: HTMLElement): void {
  // The list is what its rows are placed in.
  const top = row.offsetTop;
  const above = top < list.scrollTop;
  const below = top + row.offsetHeight > list.scrollTop + list.clientHeight;
  if (above || row.offsetHeight > list.clientHeight) list.scrollTop = top;
  else if (below) list.scrollTop = top + row.offsetHeight - list.clientHeight;
}

/** The entries from the handover before to this one. */
function shiftOf(view: View, { handover }: HandoverState) {
  const before = handover.body.before === null ? undefined : view.log.get(handover.body.before);
  const later = new Set(entriesSince(view, handover).map((k) => k.hash));
  return entriesSince(view, (before as HandoverState['handover'] | undefined) ?? null).filter(
    (k) => !later.has(k.hash),
  );
}

interface RowProps {
  readonly shown: ShownItem;
  readonly number: number;
  readonly talk: Talk;
  readonly current: boolean;
  readonly onOpen: () => void;
}

function TalkRow({ shown, number, talk, current, onOpen }: RowProps) {
  const talked = talk.talked.get(shown.item);
  const look = current ? 'current' : talked ? '' : 'ho-todo';
  return (
    <li>
      <button type="button" class={`row ho-row ${look}`} aria-current={current ? 'step' : undefined} onClick={onOpen}>
        <span class="n ho-number">{number}</span>
        <span class="ho-mark">
          {current ? (
            <svg viewBox="0 0 26 26" width="26" height="26" aria-hidden="true">
              <path d="M5 5l15 8-15 8z" fill="var(--index)" />
            </svg>
          ) : (
            <ConditionMark condition={talked ? (talked.refused ? 'blocks' : 'met') : 'not-yet'} decorative />
          )}
          <span class="hidden-text">
            {current ? 'now' : talked ? (talked.refused ? 'refused' : 'talked through') : 'not yet'}
          </span>
        </span>
        <ItemContent shown={shown} talked={talked ?? (current ? { item: shown.item, ...talk.note } : undefined)} />
      </button>
    </li>
  );
}

/** What has come since it was signed: the incoming lead should know of that too. */
function Since({ view, state, onAgain }: { view: View; state: HandoverState; onAgain: () => void }) {
  const count = entriesSince(view, state.handover).filter(
    (k) => k.kind !== 'talk' && k.kind !== 'handover-answer',
  ).length;
  if (state.status !== 'waiting') return null;
  const words = count === 0 ? 'Nothing has' : count === 1 ? '1 entry has' : `${count} entries have`;
  return (
    <Sheet label="Since it was prepared" class="ho-since">
      <p class="grow small">
        <b>{words} come since it was prepared.</b>
      </p>
      <button type="button" class="button" onClick={onAgain}>
        Prepare it again
      </button>
    </Sheet>
  );
}

interface ActProps extends Props {
  readonly talk: Talk;
  readonly talking: boolean;
}

function Act({ view, state, talk, talking, open, onAgain }: ActProps) {
  const { handover, accepted } = state;
  const [wanted, want] = useState<{ go: (incoming: string) => void } | null>(null);
  const able = leads(view, handover.entry.by);
  const { items, name: outgoing } = handover.body;
  const at = (time: string) => dayAndTime(time, view.genesis.dayOne, view.genesis.timeZone);
  const known = talk.incoming === null ? null : view.standing.person(talk.incoming);
  const withIncoming = (go: (incoming: string) => void) => (talk.incoming === null ? want({ go }) : go(talk.incoming));
  const number = items.findIndex((i) => i.item === talk.current) + 1;
  return (
    <Sheet
      graduated={open}
      label="What to do next"
      class={`ho-act ${talking && talk.current === null ? 'ho-answering' : ''}`}
    >
      <SignLines
        outgoing={outgoing}
        handed={at(handover.entry.recordedAt)}
        incoming={accepted?.body.name ?? known?.name ?? 'The incoming lead'}
        taken={accepted ? at(accepted.entry.recordedAt) : undefined}
      />
      {!talking ? (
        <Answered state={state} open={open} onAgain={onAgain} />
      ) : number > 0 ? (
        <TalkItem
          talk={talk}
          handover={handover.hash}
          number={number}
          of={items.length}
          title={items[number - 1]!.title}
          withIncoming={withIncoming}
        />
      ) : talk.unsaved ? (
        <button type="button" class="button main wide" onClick={() => withIncoming((who) => void talk.keep(who))}>
          {talk.saving.busy ? 'Saving' : 'Keep the talk'}
        </button>
      ) : talk.incoming === null ? (
        <button type="button" class="button main wide" onClick={() => want({ go: talk.choose })}>
          Choose who takes over
        </button>
      ) : (
        <Answer
          view={view}
          state={state}
          talk={talk}
          incoming={talk.incoming}
          onOther={() => want({ go: talk.choose })}
        />
      )}
      {wanted && (
        <LeadChoice
          title="Who takes over?"
          people={able}
          onChoice={(who) => {
            want(null);
            talk.choose(who);
            wanted.go(who);
          }}
          onClose={() => want(null)}
        />
      )}
    </Sheet>
  );
}

/** What the incoming lead looked at alone. */
function checkWords({ readings, words }: CrossCheck): string {
  const read = readings.map(({ channel, typed, last }) =>
    last === null
      ? `${channel} ${typed.text} ${typed.unit}`
      : `${channel} ${typed.text} ${typed.unit} (the log had ${formatFigure(last, { decimals: 1 })})`,
  );
  return `Looked at alone: ${[...read, ...(words ? [words] : [])].join('; ')}.`;
}

/** How it ended, and what comes next. */
function Answered({ state, open, onAgain }: { state: HandoverState; open: boolean; onAgain: () => void }) {
  const refused = state.refusals.flatMap((r) => r.body.refused);
  const titleOf = (item: string) => state.handover.body.items.find((i) => i.item === item)?.title ?? item;
  return (
    <>
      <div class="ho-now">
        <p>{state.status === 'waiting' ? 'A later handover takes its place.' : <b>It is {answerWords(state)}.</b>}</p>
        {refused.map((r) => (
          <p key={r.item} class="small">
            {titleOf(r.item)}: {r.reason}
          </p>
        ))}
        {state.accepted && <p class="small">{checkWords(state.accepted.body.check)}</p>}
      </div>
      <div class="ho-three">
        <button type="button" class="button" onClick={() => window.print()}>
          Print one page
        </button>
        {open && state.status === 'refused' ? (
          <button type="button" class="button main" onClick={onAgain}>
            Mend it and prepare again
          </button>
        ) : (
          <a class="button main" href="/">
            To Now
          </a>
        )}
      </div>
    </>
  );
}
