import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { merkleRoot } from '../../shared/calculations/merkle-root.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const root = (leaves: string[]): string => resultOf(merkleRoot, { leaves }).root;

/** Grows the tree leaf by leaf, keeping one hash for each full subtree, as a transparency log does. */
function byStack(leaves: string[]): string {
  const sha = (...parts: Buffer[]): Buffer => createHash('sha256').update(Buffer.concat(parts)).digest();
  const stack: { size: number; hash: Buffer }[] = [];
  const merge = (): void => {
    const right = stack.pop()!;
    const left = stack.pop()!;
    stack.push({ size: left.size + right.size, hash: sha(Buffer.of(1), left.hash, right.hash) });
  };
  for (const leaf of leaves) {
    stack.push({ size: 1, hash: sha(Buffer.of(0), Buffer.from(leaf, 'hex')) });
    while (stack.length > 1 && stack.at(-1)!.size === stack.at(-2)!.size) merge();
  }
  while (stack.length > 1) merge();
  return (stack[0]?.hash ?? sha()).toString('hex');
}

const leaf = fc.uint8Array({ maxLength: 40 }).map((bytes) => Buffer.from(bytes).toString('hex'));

describe('merkle-root', () => {
  describeOutsideChecks(merkleRoot);

  test('the root of nothing is SHA-256 of nothing (RFC 9162, 2.1.1; FIPS 180-4)', () => {
    expect(root([])).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
  });

  test('refuses leaves that are no bytes', () => {
    expect(errorOf(merkleRoot, { leaves: ['00', '0'] })).toEqual({
      path: 'leaves.1',
      message: 'must have two hex digits a byte',
    });
    expect(errorOf(merkleRoot, { leaves: ['0x00'] })).toEqual({
      path: 'leaves.0',
      message: 'must be hex: digits 0 to 9 and a to f',
    });
    expect(errorOf(merkleRoot, { leaves: [7] })).toEqual({ path: 'leaves.0', message: 'must be a string' });
    expect(errorOf(merkleRoot, { leaves: '00' })).toEqual({ path: 'leaves', message: 'must be an array' });
    expect(errorOf(merkleRoot, {})).toEqual({ path: 'leaves', message: 'is missing' });
  });

  test('grows as a log grows; upper and lower case are the same bytes; order and count matter', () => {
    fc.assert(
      fc.property(fc.array(leaf, { maxLength: 40 }), leaf, (leaves, more) => {
        expect(root(leaves)).toBe(byStack(leaves));
        expect(root(leaves.map((l) => l.toUpperCase()))).toBe(root(leaves));
        expect(root([...leaves, more])).not.toBe(root(leaves));
        const reversed = leaves.toReversed();
        if (reversed.some((l, k) => l !== leaves[k])) expect(root(reversed)).not.toBe(root(leaves));
      }),
      { seed: 1, numRuns: 150 },
    );
  });

  test('a node passed off as a leaf gives another root (the prefixes of RFC 9162 keep them apart)', () => {
    const [a, b] = [root(['aa']), root(['bb'])];
    expect(root([a + b])).not.toBe(root(['aa', 'bb']));
  });
});
