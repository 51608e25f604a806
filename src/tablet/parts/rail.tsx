import { Mark, PlaceDrawing, type PlaceIcon, Sign } from './icons.tsx';
import './rail.css';

/** One place of the tablet. */
export type Place = {
  href: string;
  label: string;
  icon: PlaceIcon;
  /** How many things there want a hand; 0 and nothing show no count. */
  count?: number | undefined;
  /** What the count counts: "findings". */
  countOf?: string | undefined;
  current?: boolean | undefined;
  /** On the phone it stands under the title, not in the bottom bar. */
  underTitle?: boolean | undefined;
};

/** The places: a rail for the left thumb, or a bar at the bottom. Places that do not exist yet are left out. */
export function Rail({ places, onEmergency }: { places: Place[]; onEmergency?: (() => void) | undefined }) {
  return (
    <nav class="rail" aria-label="Places">
      <span class="rail-mark">
        <Mark />
      </span>
      {onEmergency && (
        <button type="button" class="place emergency" onClick={onEmergency}>
          <Sign sign="emergency" size={26} />
          Emergency
        </button>
      )}
      <ul>
        {places.map((place) => (
          <li key={place.href} class={place.underTitle ? 'under-title' : ''}>
            <PlaceLink place={place} />
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** A link to a place, with its icon, name and count. */
export function PlaceLink({ place }: { place: Place }) {
  const { href, label, icon, count, countOf = 'open', current } = place;
  return (
    <a class="place" href={href} aria-current={current ? 'page' : undefined}>
      <PlaceDrawing place={icon} />
      <span>{label}</span>
      {count ? (
        <span class="count">
          <span class="hidden-text">, </span>
          {count}
          <span class="hidden-text">{` ${countOf}`}</span>
        </span>
      ) : null}
    </a>
  );
}
