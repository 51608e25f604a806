/** The fourteen stages of a casting; operation 1.x belongs to stage 1 and so on. */
export const stages = [
  'Turntable',
  'Tub',
  'Furnace',
  'Preheat',
  'Tub survey',
  'Cores',
  'Core bake',
  'Glass',
  'Firing',
  'Melt',
  'Anneal',
  'Lift',
  'Clean-out',
  'Release',
].map((name, index) => ({ id: String(index + 1), name }));
