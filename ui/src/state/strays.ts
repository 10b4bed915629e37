/** Photos of the phone's own camera that never arrived, since the app was ended meanwhile. */
import { handover } from '../door';
import { jobPath, swap } from './route.svelte';
import { read, session } from './session.svelte';

/** Where in a job a stray is looked at, for the step and the subject that the camera was open for. */
export function strayPath(job: string, place: readonly string[]): string {
  const [screen, step, subject] = place;
  return screen === 'camera' && step
    ? jobPath(job, 'stray', step, subject ?? 'other')
    : jobPath(job, 'stray');
}

/** Looks for them where a page begins; the job in hand is asked about the first. */
export async function lookForStrays(job: string | null, place: readonly string[]): Promise<void> {
  const shell = handover();
  if (!shell) return;
  session.strays = (await read(() => shell.strays())) ?? [];
  if (!job) return;
  const asked = place[0] === 'stray';
  if (session.strays.length > 0) {
    if (!asked) swap(strayPath(job, place));
  } else if (asked) swap(jobPath(job)); // Ended right after the last one was kept.
}

/** What became of one: it is in a job now, or in none. */
export function settled(photo: string): void {
  session.strays = session.strays.filter((one) => one.photo !== photo);
}
