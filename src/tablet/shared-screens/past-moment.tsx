import type { ComponentChildren } from 'preact';
import { isLate, type Observed } from '../app/observed-at.ts';
import { dateIn, isoWithOffset } from '../app/time.ts';
import './past-moment.css';

/** Date and time as typed. */
export interface TypedMoment {
  readonly date: string;
  readonly time: string;
}

interface Props {
  /** What the switch says. */
  readonly label: string;
  /** Behind "Date" and "Time", e.g. `on the paper`. */
  readonly which: string;
  readonly timeZone: string;
  /** Null for now. */
  readonly moment: TypedMoment | null;
  readonly onMoment: (moment: TypedMoment | null) => void;
  /** What is said below the two fields. */
  readonly children?: ComponentChildren;
}

/** A switch for what was not now, and then its date and time. */
export function PastMoment({ label, which, timeZone, moment, onMoment, children }: Props) {
  return (
    <>
      <label class="row choice">
        <input
          type="checkbox"
          class="past-switch"
          checked={moment !== null}
          onChange={(event) =>
            onMoment(event.currentTarget.checked ? { date: dateIn(new Date(), timeZone), time: '' } : null)
          }
        />
        <span class="grow">{label}</span>
      </label>
      {moment && (
        <div class="past-moment">
          <label class="labelled">
            <span>Date {which}</span>
            <input
              class="input"
              type="date"
              value={moment.date}
              onInput={(event) => onMoment({ ...moment, date: event.currentTarget.value })}
            />
          </label>
          <label class="labelled">
            <span>Time {which}</span>
            <input
              class="input"
              type="time"
              value={moment.time}
              onInput={(event) => onMoment({ ...moment, time: event.currentTarget.value })}
            />
          </label>
          {children}
        </div>
      )}
    </>
  );
}

/** What becomes of the time that stands on the paper. */
export function PaperWords({ observed }: { observed: Observed | null }) {
  const late = observed && 'at' in observed && isLate(isoWithOffset(observed.at), isoWithOffset());
  return (
    <p class="small past-words" role="status">
      {observed && 'fault' in observed ? (
        <span class="field-error">{observed.fault}</span>
      ) : late ? (
        <span class="not-proven">More than four hours ago: it is kept, and marked late.</span>
      ) : (
        'Both times are kept: that of the paper, and now.'
      )}
    </p>
  );
}
