type Link = `${'FS' | 'SS' | 'FF'} ${string}`;

/**
 * Why each operation waits for what stands before it: by operation, then by kind of link and the operation before. What
 * is no derived figure is common practice, no source.
 */
export const orderReasons: Readonly<Record<string, Readonly<Record<Link, string>>>> = {
  '1.2': { 'FS 1.1': 'A bearing that does not run true tilts the axis as it turns; levelling it then means nothing.' },
  '1.3': { 'FS 1.1': 'The drive is not put on a bearing that has not been turned by hand and found free.' },
  '2.1': { 'FS 1.2': 'The floor is laid to the table; a table levelled afterwards takes the floor with it.' },
  '2.2': {
    'SS 2.1': 'Staves stand on the outer floor tiles: these lie two days, so that the bed under them has set.',
    'FF 2.1': 'The last stave closes against the finished floor, a day after its last tile.',
  },
  '2.3': { 'FS 2.2': 'A band tensioned on an open wall pulls it out of round.' },
  '2.4': {
    'FS 2.3': 'The wall gives under fresh tension for half a day; measured sooner, the size is not the one that stays.',
  },
  '3.1': {
    'FS 1.3': 'Once the shell stands, drive and brake are hard to reach.',
    'FS 2.4': 'The shell hides the tub: what was not measured by then cannot be measured.',
  },
  '3.2': {
    'SS 3.1': 'Sensors go through shell and hearth that must stand before they are fitted.',
    'FF 3.1': 'Channels are proved with the last heater wired, or noise and crossed leads are not found.',
  },
  '3.3': {
    'FS 3.1': 'The test spin proves the table with everything mounted that will turn with it.',
    'FS 3.2': 'Loose leads and slip rings show only when all channels are on and read.',
  },
  '4.1': { 'FS 3.3': 'What shakes loose in the test spin must be found while the furnace is cold and open.' },
  '4.2': { 'FS 4.1': 'A day to come to hall temperature: a warm band slackens as it cools.' },
  '5.1': { 'FS 4.2': 'The wall settles for some hours after the bands were touched.' },
  '6.1': { 'FS 5.1': 'The liner is chosen for the tub as it was found, and hides it.' },
  '6.2': { 'FS 1.2': 'Cores are measured in a room and with datums that are ready only then.' },
  '6.3': {
    'FS 6.1': 'The edge cores are set against the liner.',
    'SS 6.2': 'Setting needs enough measured cores that heights can be matched to addresses.',
    'FF 6.2': 'The last cores are set after the last were measured; none goes in without its size.',
  },
  '6.4': {
    'SS 6.3': 'A survey needs whole rings whose neighbours stand and are pinned.',
    'FF 6.3': 'Late cores push their neighbours: the last gaps are read after the last pin.',
  },
  '7.1': { 'FS 6.4': 'The bake changes every core; without sizes from before nobody can say by how much.' },
  '7.2': { 'FS 7.1': 'A day to come to hall temperature: warm cores are read too high, and burn.' },
  '7.3': { 'FS 7.2': 'Tops are trimmed to what the survey found; dust comes last.' },
  '8.1': { 'SS 6.2': 'The measuring room and its people take cores in first.' },
  '8.2': {
    'FS 7.3': 'After glass lies on it the mould cannot be cleaned or looked at.',
    'FS 8.1': 'No block goes in without its mass and its look: a stone or a lost kilogram is found only in the blank.',
  },
  '9.1': { 'FS 8.2': 'The furnace is shut over a load that is complete, weighed and in balance.' },
  '9.2': { 'FS 9.1': 'What must run for eleven days is proved before heat makes it unreachable.' },
  '9.3': { 'FS 9.2': 'Table and glass must be evenly warm: a cold bearing or a shifted pile shows itself at rate.' },
  '10.1': { 'FS 9.3': 'Glass that flows on a table not at rate fills the mould to the wrong shape.' },
  '11.1': { 'FS 10.1': 'Gaps that are not full and bubbles that have not risen freeze in.' },
  '11.2': { 'SS 11.1': 'Until then the glass still flows: a table stopped sooner loses the paraboloid.' },
  '11.3': {
    'FS 11.1': 'Annealing begins where the fast cool ends; held hotter, the glass devitrifies.',
    'FS 11.2': 'Weeks of soaking are not spent on a turning bearing.',
  },
  '11.4': { 'FS 11.3': 'Cooled faster before it is through the annealing range, the glass keeps stress for good.' },
  '12.1': { 'FS 11.4': 'Hall air on warm glass cracks it.' },
  '12.2': { 'FS 12.1': 'Bands are reached and slackened only in the open furnace, after the first look.' },
  '12.3': { 'FS 12.2': 'Pads are bonded to a face that no falling stave or band can strike.' },
  '12.4': {
    'FS 12.3': 'The bond cures for seven days, in time and in temperature; before that a pad may let go under load.',
  },
  '12.5': { 'FS 12.4': 'The blank hangs an hour and is watched before it is turned: a pad that creeps shows itself.' },
  '13.1': { 'FS 12.5': 'The tiles are on its back: reached when it lies face down or stands on edge, secured.' },
  '13.2': {
    'SS 13.1': 'A cell is washed through its open pin hole; enough must be open that jets are not moved at every cell.',
    'FF 13.1': 'The last cells are washed after the last tile and pin are off.',
  },
  '13.3': {
    'SS 13.2':
      'A cell is looked into when it is clean and has drained; washing must be far enough off not to splash it.',
    'FF 13.2': 'The last cells drain a day before they are called dry.',
  },
  '14.1': { 'FS 13.3': 'Fibre and water left in a cell are weighed as glass.' },
  '14.2': { 'FS 14.1': 'Findings are closed on final figures.' },
};
