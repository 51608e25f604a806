import { afterEach, expect, it, vi } from 'vitest';
import { lookAtRoom, quota, storageIsNearlyFull } from '../../src/tablet/app/storage-state.ts';

afterEach(() => {
  vi.unstubAllGlobals();
  quota.value = null;
});

const browserSays = (estimate: StorageEstimate): void =>
  void vi.stubGlobal('navigator', { storage: { estimate: async () => estimate } });

it('warns above 80 % of what the browser allows, and stops when there is room again', async () => {
  browserSays({ usage: 800, quota: 1_000 });
  await lookAtRoom();
  expect(storageIsNearlyFull.value).toBe(false);
  browserSays({ usage: 801, quota: 1_000 });
  await lookAtRoom();
  expect(storageIsNearlyFull.value).toBe(true);
  browserSays({ usage: 300, quota: 1_000 });
  await lookAtRoom();
  expect(storageIsNearlyFull.value).toBe(false);
});

it('warns of nothing where the browser does not say', async () => {
  for (const said of [{}, { storage: {} }, { storage: { estimate: async () => ({}) } }]) {
    vi.stubGlobal('navigator', said);
    await lookAtRoom();
    expect(quota.value).toBeNull();
  }
});
