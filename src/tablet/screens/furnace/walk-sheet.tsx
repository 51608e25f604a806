import { useEffect, useMemo, useRef } from 'preact/hooks';
import { controlFigures } from '../../../../shared/logbook/state/channels.ts';
import { groupName } from '../../../../shared/logbook/state/group-name.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { followsPlan, lastValue, type WalkItem } from './round-input.ts';
import type { Round } from './use-round.ts';

/** The channels in walking order: what was last, what is read now, how far off the plan. A tap goes there. */
export function WalkSheet({ round }: { round: Round }) {
  const { walk, item, heat, view } = round;
  const list = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const row = list.current?.querySelector<HTMLElement>('[aria-current]');
    // Only the list scrolls: on a small screen the field must stay where it is.
    if (row && list.current) list.current.scrollTop = row.offsetTop - list.current.clientHeight / 2;
  }, [item.channel.id]);
  const control = useMemo(() => controlFigures(view, heat, walk.rows, walk.at_ms), [view, heat, walk]);
  const groups = [...new Set(walk.items.map((i) => i.channel.group))];
  return (
    <Sheet
      class="walk-sheet"
      title="Walk"
      aside={
        control ? (
          <span class="walk-mean">
            {heat.plan.control.map(groupName).join(', ')} mean{' '}
            <Figure value={control.deviation_K} decimals={1} signed unit="K" /> off{' '}
            <VerdictMark verdict={control.verdict} />
          </span>
        ) : undefined
      }
    >
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and keys must reach it */}
      <div ref={list} class="walk-list" tabIndex={0}>
        <p class="walk-row walk-head note">
          <span>channel</span>
          <span>last</span>
          <span>now</span>
          <span class="walk-off">off the plan</span>
        </p>
        {groups.map((group) => (
          <Group key={group} round={round} group={group} items={walk.items.filter((i) => i.channel.group === group)} />
        ))}
        <LeftOut round={round} />
      </div>
    </Sheet>
  );
}

function Group({ round, group, items }: { round: Round; group: string; items: readonly WalkItem[] }) {
  const { draft, change, walk } = round;
  const untouched = items.every((i) => i.text === '' && !i.done);
  return (
    <section>
      <div class="walk-group">
        <h3 class="walk-name">{groupName(group)}</h3>
        <span class="n small">
          {items.filter((i) => i.done).length}/{items.length}
        </span>
        {untouched && round.extent === 'full' && (
          <button
            type="button"
            class="button"
            onClick={() =>
              change({
                leftOut: [...walk.leftOut, group],
                ...(items.some((i) => i.channel.id === draft.at) ? { at: null } : {}),
              })
            }
          >
            Leave out<span class="hidden-text"> {groupName(group)}</span>
          </button>
        )}
      </div>
      <ul class="rows">
        {items.map((i) => (
          <li key={i.channel.id}>
            <Row item={i} round={round} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Row({ item, round }: { item: WalkItem; round: Round }) {
  const { channel, value, state, text, fault } = item;
  const decimals = channel.unit === 'rpm' ? 2 : 1;
  const off = followsPlan(channel) && value !== null ? value - round.walk.planned.planned_C : null;
  return (
    <button
      type="button"
      class="row walk-row"
      aria-current={round.item.channel.id === channel.id ? 'true' : undefined}
      onClick={() => round.choose(channel.id)}
    >
      <b class="n">{channel.id}</b>
      <span class="small dim">
        <span class="hidden-text">last </span>
        <Figure value={lastValue(item.history)} decimals={decimals} />
      </span>
      <span class={fault ? 'not-proven' : ''}>
        {state === 'dead' ? (
          <span class="not-proven">dead</span>
        ) : fault ? (
          text
        ) : (
          <Figure value={value} decimals={decimals} unit={value === null ? undefined : channel.unit} />
        )}
        {state === 'suspect' && <span class="note not-proven"> suspect</span>}
      </span>
      <span class="walk-off">{off !== null && <Figure value={off} decimals={1} signed unit="K" />}</span>
    </button>
  );
}

function LeftOut({ round }: { round: Round }) {
  const { leftOut } = round.walk;
  if (leftOut.length === 0 || round.extent === 'key') return null;
  return (
    <section>
      <div class="walk-group">
        <h3>Left out</h3>
      </div>
      <ul class="rows">
        {leftOut.map((group) => (
          <li key={group}>
            <span class="grow">{groupName(group)}</span>
            <button
              type="button"
              class="button"
              onClick={() => round.change({ leftOut: leftOut.filter((g) => g !== group) })}
            >
              Read them<span class="hidden-text">: {groupName(group)}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
