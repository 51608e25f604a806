/** Shown on the operations that name them; each ends with the closing sentence. */
export const cautions = [
  {
    id: 'C01',
    name: 'Hot',
    text: 'Surfaces, air and sight ports burn without glowing. Face shield, aluminised coat and second person at every open port.',
  },
  {
    id: 'C02',
    name: 'Electrics',
    text: 'Heater circuits are live and some sit on the moving table. Isolate, lock, prove dead by a person licensed for it, before any hand or tool goes in.',
  },
  {
    id: 'C03',
    name: 'Rotation',
    text: 'The table starts without noise. Nobody inside the barrier while the drive can be energised; loose cords, tapes and lanyards off.',
  },
  {
    id: 'C04',
    name: 'Fibre',
    text: 'High-temperature fibre sheds respirable dust; new fibre is a suspected carcinogen in many places (NIOSH 2006-123, general). Wet it, extract at source, fitted respirator, separate clothing, no sweeping, no compressed air.',
  },
  {
    id: 'C05',
    name: 'Used fibre',
    text: 'Fibre that has seen more than about 900 °C may hold crystalline silica. Treat removal as silica work; air sampling by an occupational hygienist.',
  },
  {
    id: 'C06',
    name: 'Silica and cement dust',
    text: 'Cutting tiles, staves and mortar: wet or extracted, respirator.',
  },
  {
    id: 'C07',
    name: 'Lifting',
    text: 'Loads over glass and people: lift plan, appointed lifter, rated and dated gear, nobody beneath, one voice gives signals.',
  },
  {
    id: 'C08',
    name: 'Height',
    text: 'Work on the tub edge and furnace roof: platform or harness, tools tied on, nothing loose above open cores.',
  },
  {
    id: 'C09',
    name: 'Confined space',
    text: 'The tub and the closed furnace are places with one exit, dust and little air: entry permit, attendant, gas check.',
  },
  {
    id: 'C10',
    name: 'Stored energy',
    text: 'Band tension rods, springs and jacks release with force. Stand out of line; release in the stated order.',
  },
  {
    id: 'C11',
    name: 'Water jet',
    text: 'A jet injects skin and floods electrics: two-hand trigger, guarded lance, drained floor, no electrics within the splash line.',
  },
  {
    id: 'C12',
    name: 'Glass',
    text: 'Large glass under stress can part without warning; blocks have razor edges. Cut-resistant sleeves, eye protection, no leaning on edges.',
  },
  {
    id: 'C13',
    name: 'Bonding chemicals',
    text: 'Adhesive and solvent: skin, lungs, fire. Ventilation, gloves of the right kind, data sheet at the place.',
  },
  {
    id: 'C14',
    name: 'First heat fumes',
    text: 'Binder and sizing burn off as fumes and carbon monoxide: extraction proved, gas alarm worn, nobody on the roof.',
  },
];

export const cautionClosing = "Local codes, the site's permits and licensed practitioners decide; this advises only.";
