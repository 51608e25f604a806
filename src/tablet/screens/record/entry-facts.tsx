import type { Kept } from '../../../../shared/logbook/log.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { factsOf } from './facts-of.ts';

/** All that an entry says, in words: names and values, then its answers or channels. */
export function EntryFacts({ view, kept }: { view: View; kept: Kept }) {
  const { facts, list } = factsOf(view, kept);
  return (
    <>
      <dl class="record-from">
        {facts.map(({ name, value, href }) => (
          <div key={name + value}>
            <dt class="small dim">{name}</dt>
            <dd class={/^[0-9a-f]{64}$/.test(value) ? 'n record-hash' : ''}>
              {href ? (
                <a class="record-link" href={href}>
                  {value}
                </a>
              ) : (
                value
              )}
            </dd>
          </div>
        ))}
      </dl>
      {list && (
        <section class="record-lines">
          <h3>
            {list.title} <span class="n">{list.lines.length}</span>
          </h3>
          <ul class="rows">
            {list.lines.map(({ text, note, value }) => (
              <li key={text}>
                <span class="grow">
                  {text}
                  {note && <span class="note record-who">{note}</span>}
                </span>
                <b>{value}</b>
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
