import { useEffect, useState } from 'preact/hooks';

/** Whether the screen is kept awake, and if not, why. */
export type Awake = 'asking' | 'awake' | 'refused' | 'unknown to this browser';

/** Keeps the screen awake while a screen stands, and again when the tablet is woken. */
export function useAwake(): Awake {
  const [state, setState] = useState<Awake>('asking');
  useEffect(() => {
    if (!('wakeLock' in navigator)) return setState('unknown to this browser');
    let lock: WakeLockSentinel | null = null;
    let wanted = true;
    const ask = async () => {
      if (!wanted || document.visibilityState !== 'visible') return;
      try {
        lock = await navigator.wakeLock.request('screen');
        if (wanted) setState('awake');
        else await lock.release();
      } catch {
        // A low battery or a setting of the tablet forbids it: the person is told, nothing is lost.
        if (wanted) setState('refused');
      }
    };
    const onSight = () => void ask();
    document.addEventListener('visibilitychange', onSight);
    void ask();
    return () => {
      wanted = false;
      document.removeEventListener('visibilitychange', onSight);
      void lock?.release();
    };
  }, []);
  return state;
}
