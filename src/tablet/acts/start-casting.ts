import { canonicalJson } from '../../../shared/logbook/canonical.ts';
import { castingId } from '../../../shared/logbook/entry.ts';
import type { Body, Role } from '../../../shared/logbook/kinds.ts';
import { planHashOf } from '../../../shared/logbook/state/view.ts';
import { buildPlan } from '../../../shared/plan/build-plan.ts';
import type { Design } from '../../../shared/plan/schema.ts';
import { choosePerson } from '../app/session.ts';
import { listCasting, logChanged, showCasting } from '../app/tablet.ts';
import { isoWithOffset } from '../app/time.ts';
import { CastingStore } from '../storage/casting-store.ts';
import { makeTabletKey, randomId } from '../storage/keys.ts';
import { makePersonKey } from '../storage/person-keys.ts';

export interface NewCasting {
  readonly name: string;
  readonly design: Design;
  readonly timeZone: string;
  /** Day 1, a date. */
  readonly dayOne: string;
  readonly tabletName: string;
  readonly founder: { readonly name: string; readonly roles: readonly Role[]; readonly pin: string };
}

/**
 * Begins a casting: tablet key, founder and key, genesis and plan revision 1, in a database of its own.
 * @throws {Error} when the design leads to no plan.
 */
export async function startCasting(wanted: NewCasting): Promise<void> {
  const plan = JSON.parse(canonicalJson(buildPlan(wanted.design)));
  const tabletKey = await makeTabletKey();
  const person = randomId();
  const key = await makePersonKey(person, wanted.founder.pin, tabletKey);
  const genesis: Body<'genesis'> = {
    name: wanted.name,
    design: wanted.design,
    planHash: planHashOf(plan),
    nonce: randomId(),
    practice: false,
    timeZone: wanted.timeZone,
    dayOne: wanted.dayOne,
    founder: { person, name: wanted.founder.name, roles: [...wanted.founder.roles], key: key.publicKey },
    device: { name: wanted.tabletName, key: tabletKey.publicKey },
  };
  const id = castingId(genesis);
  const store = await CastingStore.create(id, tabletKey, logChanged);
  await store.db.personKeys.add(key);
  const at = isoWithOffset();
  const by = { by: person, observedAt: at, recordedAt: at };
  await store.save([
    { kind: 'genesis', body: genesis, ...by },
    { kind: 'plan', body: { plan, parents: [] }, ...by },
  ]);
  await listCasting({ id, name: wanted.name, practice: false, openedAt: new Date().toISOString() });
  showCasting(store);
  await choosePerson(person);
}
