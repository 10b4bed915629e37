/** A photo on its way: its bytes first, then its line, then what the machine reads in it. */
import { call, putPhoto } from '../door';
import type { EntryId } from '../door/types/EntryId';
import type { Reading } from '../door/types/Reading';
import type { PhotoSubject } from '../door/types/PhotoSubject';
import { attempt, renewStart, session, write, written } from '../state/session.svelte';
import { say } from '../words';

export interface Kept {
  entry: EntryId;
  countable: boolean;
}

export async function keepPhoto(
  step: string,
  subject: PhotoSubject,
  bytes: Blob,
): Promise<Kept | null> {
  const photo = await attempt(say('busy-photo'), () => putPhoto(bytes));
  return photo ? placePhoto(step, subject, photo) : null;
}

/** A reading off a meter's display with the frame that shows it: the lines of both, or neither. */
export async function keepDisplayed(
  step: string,
  component: EntryId,
  reading: Reading,
  frame: Blob,
): Promise<EntryId | null> {
  const photo = await attempt(say('busy-photo'), () => putPhoto(frame));
  if (!photo) return null;
  return written((job, sure) =>
    call({ do: 'write_displayed', job, step, photo, component, reading, sure }),
  );
}

/** A photo whose bytes are kept already: its line, and what the machine reads in it. */
export async function placePhoto(
  step: string,
  subject: PhotoSubject,
  photo: string,
): Promise<Kept | null> {
  const entry = await write({ fact: 'photo_taken', step, photo, subject });
  const job = session.job;
  if (!entry || !job) return null;
  // Photos are what fills a phone.
  void renewStart();
  const countable = job.photos.find((one) => one.entry === entry)?.countable ?? false;
  if (countable) {
    // When it fails the photo is kept all the same; its own screen offers to read it.
    const reply = await attempt(say('busy-reading'), () =>
      call({ do: 'take_census', job: job.id, photo: entry }),
    );
    if (reply) session.job = reply.job;
  }
  return { entry, countable };
}
