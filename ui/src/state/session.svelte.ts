/** What the door last said, and what stands in the way. Screens are drawn from this. */
import { asProblem, call, type Stray } from '../door';
import type { Command } from '../door/types/Command';
import type { EntryId } from '../door/types/EntryId';
import type { Fact } from '../door/types/Fact';
import type { JobView } from '../door/types/JobView';
import type { Problem } from '../door/types/Problem';
import type { StartView } from '../door/types/StartView';
import type { Settings } from '../door/types/Settings';
import { say, speak } from '../words';
import { ofBrowser } from '../words/language.svelte';
import { changed } from './settle.svelte';

/** A problem at the thumb; a doubtful one waits for an answer. */
export interface Trouble {
  problem: Problem;
  answer?: (sure: boolean) => void;
}

class Session {
  start = $state.raw<StartView | null>(null);
  job = $state.raw<JobView | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  /** What the machine is doing, while it is. */
  busy = $state<string | null>(null);
  /** How many screens are reading what they show. */
  reading = $state(0);
  /** What just happened, in words. */
  said = $state<string | null>(null);
  /** A hub's link that the app was opened with. */
  pairing = $state.raw<{ address: string; code: string; fingerprint: string } | null>(null);
  /** An export that the app was opened with, by its name. */
  waiting = $state<string | null>(null);
  /** Photos of the phone's own camera that no job has. */
  strays = $state.raw<Stray[]>([]);
}

export const session = new Session();

/**
 * Runs what the technician asked for, one thing at a time: a second press meanwhile
 * is refused. On a problem it is shown at the thumb and the answer is null. What it
 * answers may stand where something else was pressed.
 */
export async function attempt<T>(doing: string, work: () => Promise<T>): Promise<T | null> {
  if (session.busy) return null;
  session.busy = doing;
  try {
    const answer = await work();
    session.trouble = null;
    changed();
    return answer;
  } catch (cause) {
    session.trouble = { problem: asProblem(cause) };
    return null;
  } finally {
    session.busy = null;
  }
}

/**
 * The same for what a screen reads as it opens: never refused, and in nothing's way.
 * `stays`: what comes stands where it stood.
 */
export async function read<T>(work: () => Promise<T>, stays = false): Promise<T | null> {
  session.reading += 1;
  try {
    const answer = await work();
    if (!stays) changed();
    return answer;
  } catch (cause) {
    session.trouble = { problem: asProblem(cause) };
    return null;
  } finally {
    session.reading -= 1;
  }
}

export function dismiss(): void {
  session.trouble?.answer?.(false);
  session.trouble = null;
}

function stillSure(problem: Problem): Promise<boolean> {
  return new Promise((resolve) => {
    session.trouble = { problem, answer: resolve };
  });
}

/** Writes one line of the open job. Null when nothing was written. */
export const write = (fact: Fact): Promise<EntryId | null> =>
  written((job, sure) => call({ do: 'write', job, fact, sure }), staysInPlace(fact));

/**
 * Sends what writes a line of the open job. A doubt is put to the technician, and it is sent
 * again with `sure` when they stand by it.
 */
export async function written(
  ask: (job: string, sure: boolean) => Promise<{ entry: EntryId; job: JobView }>,
  stays = false,
): Promise<EntryId | null> {
  const job = session.job?.id;
  if (!job || session.busy) return null;
  session.said = null;
  for (let sure = false; ; sure = true) {
    session.busy = say('busy-writing');
    try {
      const reply = await ask(job, sure);
      if (session.job?.id === job) session.job = reply.job;
      session.trouble = null;
      if (!stays) changed();
      navigator.vibrate?.(12);
      return reply.entry;
    } catch (cause) {
      session.busy = null;
      const problem = asProblem(cause);
      if (problem.kind !== 'doubtful' || sure) {
        session.trouble = { problem };
        return null;
      }
      const answer = await stillSure(problem);
      session.trouble = null;
      if (!answer) return null;
    } finally {
      session.busy = null;
    }
  }
}

/** A line moves what stands on the sheet; a piece of a photo that is only named stays where it is. */
export function staysInPlace(fact: Fact): boolean {
  return (
    fact.fact === 'particle_corrected' && (fact.to.is === 'debris' || fact.to.is === 'not_debris')
  );
}

type JobCommand = Extract<Command, { do: 'job' | 'undo' | 'retract' | 'save_customer' }>;

/** Any request that answers with the job. */
export async function jobCall(doing: string, command: JobCommand): Promise<boolean> {
  const reply = await attempt(doing, () => call(command));
  if (reply) session.job = reply.job;
  return reply !== null;
}

export async function loadJob(job: string): Promise<void> {
  if (session.job?.id === job) return;
  session.job = null;
  const reply = await read(() => call({ do: 'job', job }));
  if (reply) session.job = reply.job;
}

/** The open job as it is now, such as with an answer that came meanwhile; in nothing's way. */
export async function renewJob(job: string): Promise<void> {
  const reply = await call({ do: 'job', job }).catch(() => null);
  // Written meanwhile: what that answered is newer.
  if (reply && session.job?.id === job && reply.job.lines >= session.job.lines)
    session.job = reply.job;
}

export async function undo(): Promise<void> {
  const job = session.job;
  if (!job?.undo_words) return;
  const what = job.undo_words;
  if (await jobCall(say('busy-undoing'), { do: 'undo', job: job.id })) {
    session.said = say('thumb-taken-back', { what });
  }
}

/** A device that never chose: at its first run it speaks as its browser does. */
export function spoken(start: StartView): StartView {
  const language = start.settings.language ?? (start.first_run ? ofBrowser() : 'en');
  return { ...start, settings: { ...start.settings, language } };
}

/** What the core says of the device as a whole, such as of its storage, asked anew. */
export async function renewStart(): Promise<void> {
  const reply = await call({ do: 'start' }).catch(() => null);
  if (reply && session.start)
    session.start = { ...session.start, storage_warning: reply.start.storage_warning };
}

export async function saveSettings(settings: Settings): Promise<boolean> {
  const spoke = session.start?.settings.language;
  const reply = await attempt(say('busy-writing'), async () => {
    const saved = await call({ do: 'save_settings', settings });
    // What the core said before, it said in the other language.
    const anew = saved.settings.language !== spoke ? await call({ do: 'start' }) : null;
    return { settings: saved.settings, start: anew?.start ?? session.start };
  });
  if (reply?.start) {
    if (reply.settings.language) await speak(reply.settings.language);
    if (reply.settings.language !== spoke) session.job = null;
    session.start = { ...reply.start, settings: reply.settings, first_run: false };
  }
  return reply !== null;
}
