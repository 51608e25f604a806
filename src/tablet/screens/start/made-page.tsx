import { openStore, openView } from '../../app/tablet.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { Fingerprint } from '../../shared-screens/fields/fingerprint.tsx';
import { StartFrame } from './start-frame.tsx';

/** The casting is there: its fingerprint, to be written down before anything else. */
export function MadePage() {
  const { genesis, standing } = openView();
  const { db, device } = openStore();
  const tablet = standing.tablets().find((t) => t.device === device);
  return (
    <StartFrame name="Look it over" line={genesis.name} note={`day 1 is ${genesis.dayOne}`} work="start-ways">
      <Sheet title="Fingerprint of the casting" graduated>
        <div class="pad start-way">
          <Fingerprint casting={db.casting} />
          <p>
            Write it down by hand and pin it up beside the furnace. Every tablet that joins shows the same eight groups,
            or it is not this casting.
          </p>
          <a class="button main" href="/setup?part=people">
            Written down: admit the crew
          </a>
        </div>
      </Sheet>
      <Sheet title="What was made">
        <dl class="pad facts">
          <dt>Casting</dt>
          <dd>{genesis.name}</dd>
          <dt>Day 1</dt>
          <dd>
            <span class="n">{genesis.dayOne}</span>, {genesis.timeZone.replaceAll('_', ' ')}
          </dd>
          <dt>This tablet</dt>
          <dd>{tablet?.name}</dd>
          <dt>Keeper of the roster</dt>
          <dd>{genesis.founder.name}</dd>
          <dt>Blank</dt>
          <dd>
            <span class="n">{genesis.design.blank_diameter_mm}</span> mm
          </dd>
        </dl>
        <p class="pad">
          You cannot sign a hold point alone: its roles are held by different people, and one of them has taken none of
          the measurements.
        </p>
      </Sheet>
    </StartFrame>
  );
}
