import 'fake-indexeddb/auto';
import { afterAll, describe, expect, it } from 'vitest';
import { CastingDatabase } from '../../src/tablet/storage/database.ts';
import { DraftRow } from '../../src/tablet/storage/draft-row.ts';

const db = new CastingDatabase('drafts');
const stored = async (key: string): Promise<unknown> => (await db.drafts.get(key))?.value;

afterAll(() => db.delete());

describe('a draft in the store', () => {
  it('keeps the last of what was typed in a row, and writes it no oftener than it must', async () => {
    const written: unknown[] = [];
    db.drafts.hook('creating', (_, row) => void written.push(row.value));
    db.drafts.hook('updating', (change) => void written.push(change));
    const row = new DraftRow(db.drafts, 'note/1');
    await Promise.all(['s', 'sa', 'sag', 'sagg', 'saggar'].map((text) => row.keep({ text })));
    expect(await stored('note/1')).toEqual({ text: 'saggar' });
    expect(written).toHaveLength(2);
  });

  it('reads what another screen is still writing', async () => {
    const writing = new DraftRow(db.drafts, 'note/2').keep({ text: 'wet' });
    expect(await new DraftRow(db.drafts, 'note/2').read()).toEqual({ text: 'wet' });
    await writing;
  });

  it('forgets after a write that was on its way, and keeps what is typed after that', async () => {
    const row = new DraftRow(db.drafts, 'note/3');
    void row.keep({ text: 'gone' });
    await row.forget();
    expect(await stored('note/3')).toBeUndefined();
    void row.keep({ text: 'gone too' });
    void row.forget();
    await row.keep({ text: 'stays' });
    expect(await stored('note/3')).toEqual({ text: 'stays' });
  });

  it('does not fail where the store does', async () => {
    const closed = new CastingDatabase('closed');
    await closed.open();
    closed.close();
    const row = new DraftRow(closed.drafts, 'note/4');
    await expect(row.keep({ text: 'lost' })).resolves.toBeUndefined();
    await expect(row.read()).resolves.toBeUndefined();
  });
});
