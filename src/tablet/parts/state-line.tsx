import { Sign } from './icons.tsx';
import './state-line.css';

export type StateLineProps = {
  /** Entries that stand on this tablet only. */
  waiting: number;
  /** When entries were last carried, in words: "09:10 today"; null is never. */
  since: string | null;
  /** Waiting longer than the site allows. */
  late: boolean;
  /** A fork or a full storage, in words. Nothing else is red here. */
  alarm?: string | undefined;
  /** The server refuses, in words. */
  trouble?: string | undefined;
  /** While entries are being carried: how much of it is done, 0 to 1. */
  carrying?: number | undefined;
  /** Where carrying is set up and done by hand. */
  href?: string | undefined;
};

/** What the state line says first. */
export const stateWords = (props: StateLineProps): string => props.alarm ?? props.trouble ?? carriedWords(props);

function carriedWords({ waiting, carrying }: StateLineProps): string {
  if (carrying !== undefined) return `Carrying · ${waiting} to go`;
  return waiting > 0 ? `Kept here · ${waiting} not yet elsewhere` : 'Kept here and elsewhere';
}

/** What stands small below it: what an alarm took the place of, or when entries were last carried. */
function noteWords(props: StateLineProps): string {
  if (props.alarm !== undefined || props.trouble !== undefined) return carriedWords(props);
  return props.since === null ? 'not carried yet' : `last carried ${props.since}`;
}

/** Three links on a line: solid is elsewhere too, open is only here. No network is never red. */
export function StateLine(props: StateLineProps) {
  const { alarm, href } = props;
  const late = props.late || props.trouble !== undefined;
  const look = `state-line ${alarm ? 'state-alarm' : late ? 'state-late' : ''}`;
  const content = (
    <>
      <Links {...props} />
      <span class="state-words">
        <b>{stateWords(props)}</b>
        <span class="note">
          {late && <Sign sign="late" size={14} />}
          {noteWords(props)}
        </span>
      </span>
    </>
  );
  if (!href) return <div class={look}>{content}</div>;
  return (
    <a class={look} href={href}>
      {content}
    </a>
  );
}

function Links({ waiting, since, carrying }: StateLineProps) {
  const solid = waiting === 0 ? 3 : since === null ? 0 : 2;
  return (
    <svg class="state-links" viewBox="0 0 30 10" width="36" height="12" aria-hidden="true">
      <path d="M0 5h30" />
      {[2, 11.5, 21].map((x, i) => (
        <g key={x}>
          <rect class={i < solid ? 'solid' : ''} x={x} y="1.5" width="7" height="7" />
          {i === 2 && carrying !== undefined && <rect class="solid" x={x} y="1.5" width={7 * carrying} height="7" />}
        </g>
      ))}
    </svg>
  );
}
