import type { Body } from '../../logbook/kinds.ts';
import { handoverBody, prepareHandover, promptKey } from '../../logbook/state/handover.ts';
import { HANDOVER_ROLE } from '../../logbook/state/handovers.ts';
import { type CrewKey, crew } from '../crew.ts';
import type { Known, PracticeEvent } from '../events.ts';
import type { Site } from '../site.ts';
import { DAY_MS, MINUTE_MS } from '../timetable.ts';
import { RESURVEY_SHARE } from './resurvey.ts';

const EVENING_H = 17.9;
const EVENING = 'handover of the evening';

/** Answers to what the plan asks, by its words. */
type Answers = Readonly<Record<string, string>>;

const evening: Answers = {
  'People on site and fit': 'Hanna, Joel and Priya until 18:00, all fit. Tomas alone at night, Edda on call.',
  'Permits open and who holds them': 'None open. Entry into the tub is off until the morning.',
  'Isolations on': 'Heaters off and locked, key in the box. Turntable brake on.',
  'Temporary changes (bridged trip, jumper, propped door)': 'South hall door propped for the survey; shut at 18:00.',
  'What was expected and did not happen': 'The second ladder did not come.',
  'One thing that the outgoing lead worries about': 'The joint between staves 4 and 5: dust under it since noon.',
  'Datum in use': 'Centre pin of the floor.',
  'Last address set': 'No core is set.',
};

const morning: Answers = {
  'People on site and fit': 'Tomas, since 22:00, and Joel since 06:00. Both fit.',
  'Permits open and who holds them': 'Confined space, tub, until 14:00: Joel Kast.',
  'Isolations on': 'Heaters off and locked, key in the box. Turntable brake on.',
  'One thing that the outgoing lead worries about': 'How far the wall follows at 52.5°.',
  'Datum in use': 'Centre pin of the floor.',
};

/** The last two handovers: one accepted in the evening, and one of the morning that still waits. */
export function handovers(site: Site): PracticeEvent[] {
  const end = site.time.at('5.1', RESURVEY_SHARE);
  const today = Math.floor((end - site.time.onDay(1, 0)) / DAY_MS) + 1;
  const at = site.time.onDay(today - 1, EVENING_H);
  return [
    handOver(site, 'lead', at, evening, EVENING),
    site.write({
      tablet: 0,
      at: at + 16 * MINUTE_MS,
      by: 'nightLead',
      kind: 'talk',
      body: (known) => talkBody(known, site.personId('nightLead')),
    }),
    site.write({
      tablet: 0,
      at: at + 24 * MINUTE_MS,
      by: 'nightLead',
      kind: 'handover-answer',
      body: (known) => ({
        handover: known.hashOf(EVENING),
        refused: [],
        check: {
          readings: [],
          words: 'Walked round the tub with a lamp: joint 4 to 5, the brake, the key box, the door.',
        },
        name: crew.nightLead.name,
        role: HANDOVER_ROLE,
      }),
    }),
    handOver(site, 'nightLead', end - 3 * MINUTE_MS, morning),
  ];
}

function handOver(site: Site, by: CrewKey, at: number, answers: Answers, key?: string): PracticeEvent {
  return site.write({
    tablet: 0,
    at,
    by,
    kind: 'handover',
    body: (known) => {
      const view = known.view();
      const prepared = prepareHandover(view, at);
      const said = prepared.items.flatMap(({ item, prompts }) =>
        prompts.map((prompt) => [promptKey(item, prompt), answers[prompt] ?? ''] as const),
      );
      return handoverBody(view, prepared, Object.fromEntries(said), crew[by].name);
    },
    ...(key ? { key } : {}),
  });
}

/** All items, with the one question that came up. */
function talkBody(known: Known, incoming: string): Body<'talk'> {
  const handover = known.hashOf(EVENING);
  const { items } = known.view().log.get(handover)!.body as Body<'handover'>;
  return {
    handover,
    incoming,
    items: items.map(({ item }) =>
      item === 'words'
        ? { item, question: 'May the brace at stave 4 be touched?', answer: 'No. Edda looks at it first.' }
        : { item },
    ),
  };
}
