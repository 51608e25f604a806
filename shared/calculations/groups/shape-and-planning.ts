import { bandLoad } from '../band-load.ts';
import { coreHeight } from '../core-height.ts';
import { coreLayout } from '../core-layout.ts';
import { coreUplift } from '../core-uplift.ts';
import { criticalPath } from '../critical-path.ts';
import { entryHash } from '../entry-hash.ts';
import { glassMass } from '../glass-mass.ts';
import { loadBalance } from '../load-balance.ts';
import { loadShare } from '../load-share.ts';
import { merkleRoot } from '../merkle-root.ts';
import { mouldDiameter } from '../mould-diameter.ts';
import { normalGravity } from '../normal-gravity.ts';
import { permissibleUnbalance } from '../permissible-unbalance.ts';
import { spherometer } from '../spherometer.ts';
import { spin } from '../spin.ts';
import { spinCheck } from '../spin-check.ts';

/** Shape and spin, then planning and proof, in the order in which people meet them. */
export const shapeAndPlanning = [
  normalGravity,
  spin,
  spinCheck,
  mouldDiameter,
  coreLayout,
  coreHeight,
  coreUplift,
  glassMass,
  spherometer,
  loadBalance,
  permissibleUnbalance,
  loadShare,
  bandLoad,
  criticalPath,
  entryHash,
  merkleRoot,
];
