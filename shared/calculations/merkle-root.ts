import * as z from 'zod/mini';
import { merkleRoot as rootOf } from '../logbook/merkle.ts';
import { defineCalculation, workedOut } from './calculation.ts';

const hexBytes = () =>
  z.string().check(
    z.refine((text) => !/[^0-9a-f]/i.test(text), 'must be hex: digits 0 to 9 and a to f'),
    z.refine((text) => text.length % 2 === 0, 'must have two hex digits a byte'),
  );
const input = z.strictObject({ leaves: z.array(hexBytes()) });
const output = z.strictObject({ root: z.string() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** One hash that stands for a whole list of entries. */
export const merkleRoot = defineCalculation<Input, Output>({
  name: 'merkle-root',
  title: 'Root of a Merkle tree',
  group: 'Planning and proof',
  source: 'RFC 9162, section 2.1.1 (Merkle tree hash with SHA-256)',
  formula:
    'MTH({}) = SHA-256(); MTH({d}) = SHA-256(00 ‖ d); MTH(D[n]) = SHA-256(01 ‖ MTH(D[0:k]) ‖ MTH(D[k:n])), k the greatest power of two below n',
  validity: 'Leaves are bytes, in their order; another order gives another root.',
  version: 1,
  input,
  output,
  compute(i) {
    return { root: rootOf(i.leaves) };
  },
  working(i, o) {
    const leaves = i.leaves.map((leaf, k) =>
      workedOut(
        `leaf ${k}`,
        `hash of leaf ${k}, ${leaf.length / 2} bytes`,
        rootOf([leaf]),
        'hex',
        'SHA-256(00 ‖ leaf)',
        'RFC 9162',
      ),
    );
    return [
      ...leaves,
      workedOut(
        'root',
        `hash of the tree over ${i.leaves.length} leaves`,
        o.root,
        'hex',
        i.leaves.length === 0
          ? 'SHA-256 of nothing'
          : 'neighbours joined as SHA-256(01 ‖ left ‖ right), the left part a full power of two',
        'RFC 9162',
      ),
    ];
  },
});
