import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import {
  apart_K,
  type ChannelToRead,
  channelsToRead,
  lastFigure,
} from '../../../../shared/logbook/state/handover/cross-check.ts';
import type { HandoverState } from '../../../../shared/logbook/state/handovers.ts';
import { JUMP_K } from '../../../../shared/logbook/state/jump.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { answerHandover, type CrossCheck } from '../../acts/handover.ts';
import { type Read, readFigure } from '../../app/read-figure.ts';
import { settings } from '../../app/settings.ts';
import { clockTime } from '../../app/time.ts';
import { typingUnit } from '../../app/units.ts';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { Figure } from '../../parts/figure.tsx';
import { enterMovesOn, FigureField } from '../../shared-screens/fields/field.tsx';
import type { Talk } from './use-talk.ts';

interface AnswerDraft {
  readonly texts: Readonly<Record<string, string>>;
  readonly words: string;
  readonly compared: boolean;
}

const nothing: AnswerDraft = { texts: {}, words: '', compared: false };

interface Props {
  readonly view: View;
  readonly state: HandoverState;
  readonly talk: Talk;
  readonly incoming: string;
  /** Another lead takes over. */
  readonly onOther: () => void;
}

/** The incoming lead's own look, alone, then their word: accepted, or the refused items. */
export function Answer({ view, state, talk, incoming, onOther }: Props) {
  const { hash } = state.handover;
  const draft = useDraft(`answer/${hash}`, nothing);
  const saving = useSaving();
  const { route } = useLocation();
  const [problem, setProblem] = useState<string | null>(null);
  const channels = channelsToRead(view, hash);
  const { texts, words, compared } = draft.value;
  const { refused } = talk;
  const unit = (c: ChannelToRead) => typingUnit(c.unit, settings.value);
  const read = (c: ChannelToRead): Read => readFigure(draft.latest().texts[c.channel.id] ?? '', unit(c), c.unit);
  const name = view.standing.person(incoming)?.name ?? 'somebody not admitted';

  const answer = async (check: CrossCheck) => {
    const items = refused.map((r) => ({ item: r.item, reason: r.refused! }));
    if (!(await saving.run(() => answerHandover(hash, incoming, items, check)))) return;
    void draft.clear();
    route(`/handover/${hash}`);
  };
  const accept = () => {
    const readings = checkOf(channels, read);
    if (!readings) return setProblem('Read the three channels yourself first.');
    if (channels.length === 0 && words.trim() === '')
      return setProblem('Say first what you looked at yourself, alone.');
    void answer({ readings, ...(words.trim() ? { words: words.trim() } : {}) });
  };
  const compare = () => {
    const fault = channels.map((c) => [c, read(c)] as const).find(([, r]) => 'fault' in r);
    setProblem(fault && 'fault' in fault[1] ? `${fault[0].channel.id}: ${fault[1].fault}` : null);
    if (!fault) draft.change({ compared: true });
  };
  const refusing = refused.length > 0;
  const reading = channels.length > 0 && !compared && !refusing;
  return (
    <form class="ho-answer" onSubmit={(event) => event.preventDefault()} onKeyDown={enterMovesOn}>
      <div class="ho-now">
        <h2>
          {refusing
            ? `${refused.length === 1 ? '1 item' : `${refused.length} items`} refused`
            : 'Look for yourself, alone'}
        </h2>
        <p class="small dim">
          {refusing
            ? `Refused as it stands, it is not accepted: the outgoing lead mends it and hands over again.`
            : channels.length > 0
              ? compared
                ? 'What you read, and how far it lies from the log.'
                : `${name} reads these three channels, drawn by the tablet. The log’s figures come after.`
              : 'No heat runs: look at the work yourself, and say what you looked at.'}
        </p>
      </div>
      {reading && (
        <div class="ho-channels">
          {channels.map((c) => (
            <FigureField
              key={c.channel.id}
              label={`${c.channel.id}, ${c.channel.where}`}
              unit={unit(c)}
              text={texts[c.channel.id] ?? ''}
              onText={(text) => draft.change({ texts: { ...draft.latest().texts, [c.channel.id]: text } })}
            />
          ))}
        </div>
      )}
      {compared && !refusing && (
        <ul class="ho-compared">
          {channels.map((c) => (
            <Compared key={c.channel.id} view={view} asked={c} read={read(c)} />
          ))}
        </ul>
      )}
      {channels.length === 0 && !refusing && (
        <label class="labelled">
          <span>What you looked at yourself</span>
          <textarea
            class="input"
            maxLength={400}
            value={words}
            onInput={(event) => draft.change({ words: event.currentTarget.value })}
          />
        </label>
      )}
      <p class="form-error" role="status">
        {problem ?? saving.problem}
      </p>
      <div class="ho-three">
        <button type="button" class="button" onClick={onOther}>
          Another lead
        </button>
        {compared && !refusing && (
          <button type="button" class="button" onClick={() => draft.change({ compared: false })}>
            Read again
          </button>
        )}
        <button
          type="button"
          class="button main"
          onClick={() => (refusing ? void answer({ readings: [] }) : reading ? compare() : accept())}
        >
          {saving.busy ? 'Saving' : refusing ? 'Refuse with PIN' : reading ? 'Compare with the log' : 'Accept with PIN'}
        </button>
      </div>
    </form>
  );
}

/** The readings as they are kept; null while one is missing. */
function checkOf(channels: readonly ChannelToRead[], read: (c: ChannelToRead) => Read): CrossCheck['readings'] | null {
  const all = channels.flatMap((c) => {
    const figure = read(c);
    return 'fault' in figure
      ? []
      : [{ channel: c.channel.id, typed: figure.typed, last: lastFigure(c), entry: c.last.entry }];
  });
  return all.length === channels.length ? all : null;
}

/** What was read beside what the log has, and how far apart they lie. */
function Compared({ view, asked, read }: { view: View; asked: ChannelToRead; read: Read }) {
  if ('fault' in read) return null;
  const { channel, last, unit } = asked;
  const figure = lastFigure(asked);
  const apart = read.typed.value - figure;
  const decimals = unit === 'mV' ? 3 : 1;
  const kelvin = apart_K(asked, read.typed.value);
  const far = kelvin === null || Math.abs(kelvin) > JUMP_K;
  return (
    <li class={far ? 'wants-hand' : ''}>
      <b>{channel.id}</b>
      <Figure value={read.typed.value} decimals={decimals} unit={unit} />
      <span class="small">
        <Figure value={apart} decimals={decimals} signed unit={unit === '°C' ? 'K' : unit} /> from{' '}
        <Figure value={figure} decimals={decimals} /> at {clockTime(new Date(last.at_ms), view.genesis.timeZone)}
        {far && <b>: ask first</b>}
      </span>
    </li>
  );
}
