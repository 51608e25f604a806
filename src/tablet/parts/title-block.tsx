import type { ComponentChildren } from 'preact';
import { useId, useState } from 'preact/hooks';
import { Sign } from './icons.tsx';
import { type Place, PlaceLink } from './rail.tsx';
import { StateLine, type StateLineProps } from './state-line.tsx';
import './title-block.css';

export type TitleBlockProps = {
  /** The name of the screen: the only h1. */
  screen: string;
  /** What is worked on, and small below it where it belongs. */
  operation: string;
  detail?: ComponentChildren;
  /** The word Practice in its frame, always, for the practice casting. */
  practice?: boolean | undefined;
  person: { name: string; role: string } | null;
  state: StateLineProps;
  /** Time of day and the casting's day, as they are to be read: "14:32", "day 66". */
  clock: { time: string; day: string };
  /** Opens the sheet of the clock: who is here, the day, the place to change both. */
  onClock?: (() => void) | undefined;
  /** On the phone these unfold under the title. */
  places?: Place[] | undefined;
};

/** The title block: screen, operation, person, state and clock. */
export function TitleBlock(props: TitleBlockProps) {
  const { screen, operation, detail, practice, person, state } = props;
  const [unfolded, setUnfolded] = useState(false);
  const moreId = useId();
  const more = props.places?.filter((place) => place.underTitle) ?? [];
  return (
    <header class="title-place">
      <div class="title-block">
        <div class="title-screen">
          <h1>{screen}</h1>
          {practice && <span class="practice practice-phone">Practice</span>}
          {more.length > 0 && (
            <button
              type="button"
              class="title-more"
              aria-label="More places"
              aria-expanded={unfolded}
              aria-controls={moreId}
              onClick={() => setUnfolded(!unfolded)}
            >
              <Sign sign="more" size={18} />
            </button>
          )}
        </div>
        <div class="title-operation">
          <p class="title-line">
            <span>{operation}</span>
            {practice && <span class="practice">Practice</span>}
          </p>
          {detail && <p class="title-note">{detail}</p>}
        </div>
        {person && (
          <div class="title-person">
            <p class="title-line">{person.name}</p>
            <p class="title-note">{person.role}</p>
          </div>
        )}
        <div class="title-state">
          <StateLine {...state} />
        </div>
        <Clock {...props} />
        {more.length > 0 && (
          <nav id={moreId} class={`title-places ${unfolded ? 'unfolded' : ''}`} aria-label="More places">
            {more.map((place) => (
              <PlaceLink key={place.href} place={place} />
            ))}
          </nav>
        )}
      </div>
    </header>
  );
}

function Clock({ clock, onClock, person }: TitleBlockProps) {
  const reading = (
    <>
      <span class="clock n">{clock.time}</span>
      <span class="title-note">{clock.day}</span>
    </>
  );
  if (!onClock) return <div class="title-clock">{reading}</div>;
  return (
    <button type="button" class="title-clock" onClick={onClock}>
      {reading}
      <span class="hidden-text">{person ? `, ${person.name}, ${person.role}` : ', nobody signed in'}</span>
    </button>
  );
}
