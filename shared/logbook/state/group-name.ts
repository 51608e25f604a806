/** How crews call the groups of channels. */
const groupNames: Readonly<Record<string, string>> = {
  RJ: 'reference junctions',
  HZ: 'heater zones',
  'HZ-sum': 'heaters, sum',
  CR: 'crown',
  WU: 'upper wall',
  WL: 'lower wall',
  BD: 'bands',
  FB: 'hearth',
  BP: 'back plate',
  MC: 'core middle',
  FC: 'core tops',
  PY: 'pyrometer',
  SR: 'turning rate',
};

export const groupName = (group: string): string => groupNames[group] ?? group;
