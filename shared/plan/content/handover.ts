import type { Plan } from '../schema.ts';

/** The rate rises to that of the fast cool with the segment behind the soak at the peak. */
const FAST_COOL_SEGMENT = 9;

/** What an incoming lead must know, besides what the tool lists. */
export const handover: Plan['handover'] = {
  always: [
    'People on site and fit',
    'Permits open and who holds them',
    'Isolations on',
    'Temporary changes (bridged trip, jumper, propped door)',
    'What was expected and did not happen',
    'One thing that the outgoing lead worries about',
    'Tablets not yet synced',
    'Talked through face to face at the furnace, two-way, written and spoken (HSE guidance, general)',
    'The incoming lead reads three channels alone before accepting',
  ],
  byStage: [
    {
      stages: '1–2',
      items: [
        'Readings half done and at which station',
        'Crane position',
        'Mortar and bed curing times',
        'Which bands are tensioned in which round',
      ],
    },
    { stages: '3', items: ['Tools inside', 'Circuits live', 'Channels not yet proved'] },
    {
      stages: '4, 7 bake',
      items: ['Segment, hours in it, what must be true before the next', 'Gas and smoke', 'Band travel left'],
    },
    {
      stages: '5–6',
      items: ['Datum in use', 'Last address set', 'Boards on', 'Pulled and unpulled pins', 'Cores set aside and where'],
    },
    {
      stages: '8',
      items: ['Mass to go', 'Unbalance', 'Last block laid', 'Blocks out of crates', 'Covers off'],
    },
    {
      stages: '9',
      items: [
        'Segment',
        'Sounds',
        'Ports looked at',
        'Who is on call',
        'Second drive and standby state',
        'Holds waiting',
      ],
    },
    {
      stages: '10',
      items: [
        'Level trend at each port, last five',
        'Rate',
        'Bubbles',
        'Leak watch',
        'Hours of soak used',
        'Decision who and when',
      ],
    },
    {
      stages: '11',
      items: [
        'Rate in 24 h against plan',
        'Worst pair and its history',
        'Channels suspect',
        'Power per zone',
        'Weather, mains work announced, visitors',
        'Next segment change with date and hour',
      ],
    },
    {
      stages: '12',
      items: ['Clock of the cure', 'Witness pieces', 'Load left hanging: never across a handover', 'Barrier'],
    },
    {
      stages: '13',
      items: ['Cells done, under way and left', 'Pressure set', 'Sludge', 'Any cell not to be touched'],
    },
    {
      stages: '14',
      items: ['What is measured and not yet corrected', 'Concessions out for signature', 'Tablets missing'],
    },
  ],
  notDuring: ['A lift or turn', 'Spin-up', 'The last hour before fast cool', 'Re-tensioning of a band between rounds'],
  moments: [
    { words: 'A lift or turn', operations: ['12.4', '12.5'] },
    { words: 'Spin-up', operations: ['9.3'] },
    {
      words: 'The last hour before fast cool',
      ahead: { operation: '11.1', heatPlan: 'P3', segment: FAST_COOL_SEGMENT, hours: 1 },
    },
    { words: 'Re-tensioning of a band between rounds', measuring: 'band-tension' },
  ],
};
