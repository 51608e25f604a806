// @vitest-environment happy-dom
import { cleanup, renderHook, waitFor } from '@testing-library/preact';
import { afterEach, expect, it, vi } from 'vitest';
import { useAwake } from '../../src/tablet/screens/furnace/use-awake.ts';

afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
  Reflect.deleteProperty(navigator, 'wakeLock');
});

/** A browser that keeps the screen awake as the standard says: a lock each time it is asked, gone when it is released. */
function screenLocks(): { held: () => number; request: () => Promise<{ release: () => Promise<void> }> } {
  let held = 0;
  const request = async () => {
    held += 1;
    return {
      release: async () => {
        held -= 1;
      },
    };
  };
  return { held: () => held, request };
}

const withWakeLock = (request: () => Promise<unknown>): void =>
  void Object.defineProperty(navigator, 'wakeLock', { value: { request }, configurable: true });

it('keeps the screen awake while the round stands, and lets it go with it', async () => {
  const locks = screenLocks();
  withWakeLock(locks.request);
  const { result, unmount } = renderHook(() => useAwake());
  await waitFor(() => expect(result.current).toBe('awake'));
  expect(locks.held()).toBe(1);
  unmount();
  await waitFor(() => expect(locks.held()).toBe(0));
});

it('asks again when the tablet is woken, for the browser has let the screen go meanwhile', async () => {
  const request = vi.fn(screenLocks().request);
  withWakeLock(request);
  const { result } = renderHook(() => useAwake());
  await waitFor(() => expect(result.current).toBe('awake'));
  document.dispatchEvent(new Event('visibilitychange'));
  await waitFor(() => expect(request).toHaveBeenCalledTimes(2));
});

it('says that it was refused, and that a browser does not know it', async () => {
  expect(renderHook(() => useAwake()).result.current).toBe('unknown to this browser');
  withWakeLock(() => Promise.reject(new DOMException('low battery', 'NotAllowedError')));
  const { result } = renderHook(() => useAwake());
  await waitFor(() => expect(result.current).toBe('refused'));
});
