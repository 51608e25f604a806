import { bandLoad } from '../band-load.ts';
import { coreHeight } from '../core-height.ts';
import { coreLayout } from '../core-layout.ts';
import { coreUplift } from '../core-uplift.ts';
import { glassMass } from '../glass-mass.ts';
import { loadShare } from '../load-share.ts';
import { mouldDiameter } from '../mould-diameter.ts';
import { normalGravity } from '../normal-gravity.ts';
import { permissibleUnbalance } from '../permissible-unbalance.ts';
import { spin } from '../spin.ts';

/** Shape and spin, planning and proof, in the order in which people meet them. */
export const shapeAndPlanning = [
  normalGravity,
  spin,
  mouldDiameter,
  coreLayout,
  coreHeight,
  coreUplift,
  glassMass,
  permissibleUnbalance,
  loadShare,
  bandLoad,
];
