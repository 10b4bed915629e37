/** Keeps the screen awake in a job, where the platform can. */
import { handover } from '../door';

let lock: WakeLockSentinel | null = null;
let wanted = false;

async function take(): Promise<void> {
  if (!wanted || lock || document.visibilityState !== 'visible' || !navigator.wakeLock) return;
  try {
    lock = await navigator.wakeLock.request('screen');
    lock.addEventListener('release', () => (lock = null));
  } catch {
    // Battery saver may refuse; the work goes on.
    lock = null;
  }
}

document.addEventListener('visibilitychange', () => void take());

export function keepAwake(awake: boolean): void {
  const asked = handover()?.keepAwake(awake);
  if (asked) {
    // A screen that goes dark is no fault of the job's.
    asked.catch(() => undefined);
    return;
  }
  wanted = awake;
  if (awake) void take();
  else void lock?.release();
}
