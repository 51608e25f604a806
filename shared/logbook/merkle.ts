import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, concatBytes, hexToBytes } from '@noble/hashes/utils.js';

const LEAF = Uint8Array.of(0);
const NODE = Uint8Array.of(1);

/** The Merkle tree hash of RFC 9162 section 2.1.1 over leaves given in hex, in hex. */
export const merkleRoot = (leavesHex: readonly string[]): string =>
  bytesToHex(rootOf(leavesHex.map((leaf) => hexToBytes(leaf))));

function rootOf(leaves: readonly Uint8Array[]): Uint8Array {
  if (leaves.length === 0) return sha256(new Uint8Array());
  if (leaves.length === 1) return sha256(concatBytes(LEAF, leaves[0]!));
  const split = largestPowerOfTwoBelow(leaves.length);
  return sha256(concatBytes(NODE, rootOf(leaves.slice(0, split)), rootOf(leaves.slice(split))));
}

function largestPowerOfTwoBelow(n: number): number {
  let power = 1;
  while (power * 2 < n) power *= 2;
  return power;
}
