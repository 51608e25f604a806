import { beforeAll, describe, expect, it } from 'vitest';
import { canonicalJson } from '../../shared/logbook/canonical.ts';
import type { Signer } from '../../shared/logbook/crypto.ts';
import {
  type Batch,
  type CarriedLine,
  checkBatch,
  cut,
  readBatches,
  writeBatch,
} from '../../shared/sync/file-batch.ts';
import { personsText, readJoinRequest, writeJoinRequest } from '../../shared/sync/join-request.ts';
import { webVerifier } from '../../src/tablet/storage/keys.ts';
import { reading, type TestTablet, tablets, technician } from '../logbook/world.ts';
import { newSigner } from '../practice/node-signers.ts';

let signer: Signer;
beforeAll(async () => {
  signer = await newSigner();
});

const carried = (tablet: TestTablet): CarriedLine[] =>
  tablet.lines.map(({ entry, hash }) => ({ entry, hash, text: canonicalJson(entry) }));

function world(): TestTablet {
  const [a] = tablets(['T1', 'T2']) as [TestTablet];
  for (const [i, station] of ['a', 'b', 'c'].entries()) a.write('reading', reading(station, 100), technician, 5 + i);
  return a;
}

async function fileOf(tablet: TestTablet): Promise<string> {
  let text = '';
  for (const batch of cut(carried(tablet))) text += await writeBatch(tablet.casting, batch, signer);
  return text;
}

async function opened(text: string, casting: string) {
  const proven: string[] = [];
  const faults: unknown[] = [];
  for (const batch of readBatches(text)) {
    if ('fault' in batch) faults.push(batch);
    else {
      const checked = await checkBatch(batch, casting, webVerifier);
      proven.push(...checked.proven.map((l) => l.hash));
      faults.push(...checked.faults);
    }
  }
  return { proven, faults };
}

describe('a file between tablets', () => {
  it('gives back every entry, and names nothing', async () => {
    const a = world();
    const { proven, faults } = await opened(await fileOf(a), a.casting);
    expect(proven.sort()).toEqual(a.lines.map((l) => l.hash).sort());
    expect(faults).toEqual([]);
  });

  it('leaves a changed entry and all before it in its chain out, when the batch is signed again by nobody', async () => {
    const a = world();
    const text = await fileOf(a);
    const seq = a.lines.length - 1;
    const changed = text.replace(/"station":"b"/, '"station":"x"');
    expect(changed).not.toBe(text);
    const { proven, faults } = await opened(changed, a.casting);
    // The last entry is tied to the signed head; the changed one is not, and what lies before it cannot be proven.
    expect(proven).toEqual([a.lines.at(-1)!.hash]);
    expect(faults).toContainEqual({ fault: 'not-tied', device: a.device, seq });
  });

  it('names a line that is no entry any more', async () => {
    const a = world();
    const changed = (await fileOf(a)).replace('"station":"b"', '"station": "b"');
    const { faults } = await opened(changed, a.casting);
    expect(faults).toContainEqual({ fault: 'refused', line: a.lines.length - 1, why: 'not canonical' });
  });

  it('names a forged header, another casting, a cut file and a file of something else', async () => {
    const a = world();
    const text = await fileOf(a);
    const [batch] = [...readBatches(text)] as [Batch];
    const forged = { ...batch, header: { ...batch.header, heads: batch.header.heads.slice(1) } };
    expect(await checkBatch(forged, a.casting, webVerifier)).toEqual({
      proven: [],
      faults: [{ fault: 'header-signature' }],
    });
    expect((await checkBatch(batch, '0'.repeat(32), webVerifier)).faults).toEqual([{ fault: 'other-casting' }]);
    expect([...readBatches(text.slice(0, -10))]).toEqual([{ fault: 'cut-short' }]);
    expect([...readBatches('a spreadsheet\n')]).toEqual([{ fault: 'not-a-batch' }]);
  });

  it('keeps whole batches before a cut', async () => {
    const a = world();
    const lines = carried(a);
    const first = await writeBatch(a.casting, lines.slice(0, 5), signer);
    const second = await writeBatch(a.casting, lines.slice(5), signer);
    const { proven, faults } = await opened(first + second.slice(0, 200), a.casting);
    expect(proven).toHaveLength(5);
    expect(faults).toEqual([{ fault: 'cut-short' }]);
  });

  it('carries both branches of a copied tablet', async () => {
    const a = world();
    const last = a.lines.at(-1)!;
    const copy = { ...last.entry, recordedAt: '2026-03-02T06:00:00Z' };
    const { entryHash } = await import('../../shared/logbook/entry.ts');
    const lines = [...carried(a), { entry: copy, hash: entryHash(copy), text: canonicalJson(copy) }];
    const text = await writeBatch(a.casting, cut(lines)[0]!, signer);
    const { proven, faults } = await opened(text, a.casting);
    expect(proven).toHaveLength(a.lines.length + 1);
    expect(faults).toEqual([]);
  });

  it('cuts a long log into bounded batches', () => {
    const [a] = tablets(['T1']) as [TestTablet];
    for (let i = 0; i < 2_100; i++) a.write('note', { text: `note ${i}` }, technician, i);
    expect(cut(carried(a)).map((b) => b.length)).toEqual([1000, 1000, a.lines.length - 2000]);
  });
});

describe('a request to be admitted', () => {
  it('is read by a keeper only as the tablet and its people signed it', async () => {
    const casting = 'c'.repeat(32);
    const own = await newSigner();
    const person = technician.id;
    const proof = await own.sign(personsText(casting, signer.publicKey, person));
    const text = await writeJoinRequest(casting, 'T3', [{ person, key: own.publicKey, signature: proof }], signer);
    expect(await readJoinRequest(text, casting, webVerifier)).toMatchObject({ name: 'T3', people: [{ person }] });
    expect(await readJoinRequest(text.replace('T3', 'T4'), casting, webVerifier)).toEqual({
      fault: 'request-signature',
    });
    expect(await readJoinRequest(text, '0'.repeat(32), webVerifier)).toEqual({ fault: 'other-casting' });
    const stolen = await writeJoinRequest(casting, 'T3', [{ person, key: signer.publicKey, signature: proof }], signer);
    expect(await readJoinRequest(stolen, casting, webVerifier)).toEqual({ fault: 'request-signature' });
    expect(await readJoinRequest('{}', casting, webVerifier)).toBeNull();
  });
});
