import { useState } from 'preact/hooks';
import { substitutesFor } from '../../../../shared/logbook/state/channels.ts';
import { isoWithOffset } from '../../app/time.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import type { Said } from './round-draft.ts';
import type { Round } from './use-round.ts';

const NONE = 'none';
const SUBSTITUTES = 6;

/** What is the matter with a channel: suspect or dead with a reason, good again, or replaced by a new sensor. */
export function ChannelSheet({ round, onClose }: { round: Round; onClose: () => void }) {
  const { item, draft, view, next } = round;
  const { channel } = item;
  const [state, setState] = useState<Said['state'] | 'replaced'>(item.state === 'good' ? 'dead' : item.state);
  const [reason, setReason] = useState(item.reason);
  const [substitute, setSubstitute] = useState(item.substitute);
  const [name, setName] = useState(`${channel.id}a`);
  const [missing, setMissing] = useState<string | null>(null);
  const stands = substitutesFor(view.plan, channel).slice(0, SUBSTITUTES);
  const needsReason = state === 'dead' || state === 'suspect';
  const keep = () => {
    if (needsReason && !reason) return setMissing('Choose a reason first.');
    if (state === 'replaced') {
      const fault = nameFault(round, name);
      if (fault) return setMissing(fault);
      round.change({ replaced: { ...draft.replaced, [channel.id]: name.trim() }, at: name.trim() });
    } else {
      const said = { state, reason: reason ?? '', substitute: state === 'dead' ? substitute : null };
      const texts = { ...draft.texts };
      if (state === 'dead') delete texts[channel.id];
      const at = state === 'dead' ? (next?.channel.id ?? channel.id) : channel.id;
      round.change({
        said: { ...draft.said, [channel.id]: said },
        texts,
        at,
        begunAt: draft.begunAt ?? isoWithOffset(),
      });
    }
    onClose();
  };
  return (
    <Overlay title={`Channel ${channel.id}`} onClose={onClose}>
      <ChoiceList<Said['state'] | 'replaced'>
        legend="What it is"
        value={state}
        onChoice={setState}
        choices={[
          { value: 'dead', label: 'Dead', detail: 'no reading; left out of means' },
          { value: 'suspect', label: 'Suspect', detail: 'still read and recorded, not in means' },
          { value: 'replaced', label: 'Replaced', detail: 'a new sensor, under a name of its own' },
          { value: 'good', label: 'Good', detail: 'read it' },
        ]}
      />
      {needsReason && (
        <ChoiceList
          legend="Reason"
          value={reason}
          onChoice={(r) => {
            setReason(r);
            setMissing(null);
          }}
          choices={view.plan.deadChannelReasons.map((r) => ({ value: r, label: r }))}
        />
      )}
      {state === 'dead' && stands.length > 0 && (
        <ChoiceList
          legend="Which one stands in"
          value={substitute ?? NONE}
          onChoice={(s) => setSubstitute(s === NONE ? null : s)}
          choices={[
            ...stands.map((s) => ({
              value: s,
              label: s,
              detail: view.plan.channels.find((c) => c.id === s)?.where,
            })),
            { value: NONE, label: 'None' },
          ]}
        />
      )}
      {state === 'replaced' && (
        <label class="labelled">
          <span>Name of the new sensor: the old one with a letter behind it</span>
          <input class="input n" value={name} maxLength={20} onInput={(e) => setName(e.currentTarget.value)} />
        </label>
      )}
      {missing && (
        <p class="field-error" role="alert">
          {missing}
        </p>
      )}
      <a class="button wide" href={`/arrangements?new=channel&id=${encodeURIComponent(channel.id)}`}>
        Bypass it for a time
      </a>
      <button type="button" class="button main wide" onClick={keep}>
        {state === 'good' ? 'It is good' : `Call it ${state}`}
      </button>
    </Overlay>
  );
}

/** A replacement never takes the old name, nor that of another channel. */
function nameFault({ item, walk, view }: Round, name: string): string | null {
  const wanted = name.trim();
  if (!wanted.startsWith(item.channel.id) || wanted === item.channel.id)
    return `The new name is ${item.channel.id} with a letter behind it, never the old name alone.`;
  const taken = walk.items.some((i) => i.channel.id === wanted) || view.plan.channels.some((c) => c.id === wanted);
  return taken ? `${wanted} is there already.` : null;
}
