import type { ComponentChildren } from 'preact';

/** The places of the tablet, in the order of the rail. */
export type PlaceIcon = 'now' | 'sequence' | 'survey' | 'furnace' | 'glass' | 'handover' | 'record' | 'setup';

/** One stroke width for all; what is filled is what moves. */
const PLACES: Record<PlaceIcon, ComponentChildren> = {
  // The rule and its index.
  now: (
    <>
      <path d="M3 6h20M4 6v5M8.5 6v3M13 6v4M17.5 6v3M22 6v5" />
      <path d="M13 12.5l5 9H8z" fill="currentColor" />
    </>
  ),
  // Bars one after another, held by a post.
  sequence: <path d="M4 3v20M4 7h9M9 13h9M15 19h8" />,
  // The tub and one of its diameters.
  survey: <path d="M13 4a9 9 0 1 0 0 18a9 9 0 1 0 0-18M6.6 6.6l12.8 12.8M3.5 13H6M20 13h2.5M13 3.5V6M13 20v2.5" />,
  // Ramp, soak and cooling on the recorder's corner.
  furnace: (
    <>
      <path d="M4 3v19h19" stroke-width="1.25" />
      <path d="M4 19l5-10h6l8 9" />
    </>
  ),
  // A block as it is weighed.
  glass: <path d="M5 9l8-4 8 4v9l-8 4-8-4zM5 9l8 4 8-4M13 13v9" />,
  handover: <path d="M3 9h15l-4-4M23 17H8l4 4" />,
  record: <path d="M6 3h14v20H6zM9.5 8h7M9.5 13h7M9.5 18h4" />,
  setup: (
    <>
      <path d="M3 8h20M3 18h20" />
      <path d="M9 4.5v7M17 14.5v7" stroke-width="3" />
    </>
  ),
};

/** A place's icon; its name always stands beside it. */
export function PlaceDrawing({ place, size = 26 }: { place: PlaceIcon; size?: number }) {
  return (
    <svg
      viewBox="0 0 26 26"
      width={size}
      height={size}
      fill="none"
      stroke="currentColor"
      stroke-width="1.75"
      stroke-linejoin="round"
      aria-hidden="true"
    >
      {PLACES[place]}
    </svg>
  );
}

/** The project's mark: the kiln's arch with the value in it. */
export function Mark({ size = 40 }: { size?: number }) {
  return (
    <svg
      viewBox="0 0 40 40"
      width={size}
      height={size}
      fill="none"
      stroke="var(--ink)"
      stroke-width="2"
      aria-hidden="true"
    >
      <path d="M6 34V14a14 14 0 0 1 28 0v20M2 34h36" />
      <path d="M20 17l6 7-6 7-6-7z" fill="var(--ink)" stroke="none" />
    </svg>
  );
}

/** Small signs that stand at the head of a line; the words beside them say what they mean. */
const SIGNS = {
  warning: <path d="M12 3.5l9.5 17h-19zM12 10v5M12 17v1.6" />,
  // Late: the clock, and both times beside it.
  late: <path d="M12 3a9 9 0 1 0 0 18a9 9 0 1 0 0-18M12 7v5.5l4 2.5" />,
  // Typed from paper.
  paper: <path d="M5 3h10l4 4v14H5zM15 3v4h4M8 11h8M8 15h8" />,
  next: <path d="M8 4l10 8-10 8z" fill="currentColor" />,
  // A handset.
  emergency: <path d="M4 4h5l1.5 5-2.5 2a11 11 0 0 0 5 5l2-2.5 5 1.5v5A16 16 0 0 1 4 4z" />,
  more: <path d="M5 9l7 7 7-7z" fill="currentColor" stroke="none" />,
} as const;

/** A sign of 22 px in the colour of its line. */
export function Sign({ sign, size = 22 }: { sign: keyof typeof SIGNS; size?: number }) {
  return (
    <svg
      viewBox="0 0 24 24"
      width={size}
      height={size}
      fill="none"
      stroke="currentColor"
      stroke-width="2"
      stroke-linejoin="round"
      aria-hidden="true"
    >
      {SIGNS[sign]}
    </svg>
  );
}
