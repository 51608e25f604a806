import { type Condition, ConditionMark } from '../condition-mark.tsx';
import { Gate, GateOnRoad, type GateState, GateWord, gateWord } from '../gate.tsx';
import { Sign } from '../icons.tsx';
import { Sheet } from '../sheet.tsx';
import { StateLine } from '../state-line.tsx';
import { VerdictMark } from '../verdict-mark.tsx';

const GATES: GateState[] = ['open', 'ready', 'released', 'in-doubt', 'not-reached'];
const CONDITIONS: Condition[] = ['met', 'not-yet', 'blocks', 'not-here'];

/** Gates, verdict and condition marks, state lines and signs. */
export function GallerySigns() {
  return (
    <>
      <Sheet title="Gates">
        <ul class="gallery-row pad">
          {GATES.map((state) => (
            <li key={state}>
              <Gate state={state} size={48} decorative />
              <Gate state={state} size={20} decorative />
              <b class="small">{gateWord(state)}</b>
            </li>
          ))}
        </ul>
        <ul class="gallery-row pad">
          {GATES.map((state) => (
            <li key={state}>
              <GateOnRoad state={state} />
              <GateWord state={state} />
            </li>
          ))}
        </ul>
      </Sheet>
      <Sheet title="Verdicts and conditions" aside="low and high">
        <div class="gallery-row pad">
          <VerdictMark verdict="within" />
          <VerdictMark verdict="not-proven" side="low" tag />
          <VerdictMark verdict="not-proven" side="high" tag />
          <VerdictMark verdict="outside" side="low" tag />
          <VerdictMark verdict="outside" side="high" tag />
          <VerdictMark verdict="not-proven" count={3} />
          <VerdictMark verdict="outside" count={1} side="low" />
          <VerdictMark verdict={null} />
        </div>
        <div class="gallery-row pad">
          {CONDITIONS.map((condition) => (
            <span key={condition} class="verdict">
              <ConditionMark condition={condition} decorative />
              {condition}
            </span>
          ))}
          {(['warning', 'late', 'paper', 'next'] as const).map((sign) => (
            <span key={sign} class="verdict">
              <Sign sign={sign} />
              {sign}
            </span>
          ))}
        </div>
      </Sheet>
      <Sheet title="State line">
        <div class="gallery-row pad">
          <StateLine waiting={23} since="09:10 today" late={false} />
          <StateLine waiting={0} since="09:10 today" late={false} />
          <StateLine waiting={204} since={null} late={false} />
          <StateLine waiting={204} since="21:40 yesterday" late />
          <StateLine waiting={12} since="09:10 today" late={false} carrying={0.6} />
          <StateLine waiting={3} since="09:10 today" late={false} alarm="Two branches of tablet T3" href="#setup" />
        </div>
      </Sheet>
      <div class="error">
        <b>This file cannot be read</b>
        The entries on this tablet are whole. Ask for the file again from tablet T3. <code>carry-checksum</code>
      </div>
      <Sheet title="Readings to watch">
        <div class="empty">
          <p>Here stand the readings that a shift wants the next one to watch.</p>
          <button type="button" class="button">
            Add the first
          </button>
        </div>
      </Sheet>
    </>
  );
}
