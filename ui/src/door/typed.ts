/**
 * What is typed, kept in this browser letter by letter: a reload loses nothing, whether the hub is
 * there or not. What waits for the hub is marked, and comes before what the hub has.
 */

const PREFIX = 'swarfbook typed ';

interface Kept {
  text: string;
  /** The hub does not have it yet. */
  waits: boolean;
}

const name = (job: string, field: string): string => `${PREFIX}${job} ${field}`;

/** What an earlier page of this browser kept, or this one before a reload. */
export function typedBefore(job: string, field: string): Kept | null {
  try {
    const kept = localStorage.getItem(name(job, field));
    return kept === null ? null : (JSON.parse(kept) as Kept);
  } catch {
    return null;
  }
}

/** Keeps it; false where the browser keeps nothing, as in a private window that is full. */
export function keepTyped(job: string, field: string, text: string, waits: boolean): boolean {
  try {
    if (text === '' && !waits) localStorage.removeItem(name(job, field));
    else localStorage.setItem(name(job, field), JSON.stringify({ text, waits } satisfies Kept));
    return true;
  } catch {
    return false;
  }
}

/** All that waits for the hub. */
export function typedWaiting(): { job: string; field: string; text: string }[] {
  const found = [];
  try {
    for (let at = 0; at < localStorage.length; at += 1) {
      const key = localStorage.key(at);
      if (!key?.startsWith(PREFIX)) continue;
      const [job = '', ...field] = key.slice(PREFIX.length).split(' ');
      const kept = typedBefore(job, field.join(' '));
      if (job && kept?.waits) found.push({ job, field: field.join(' '), text: kept.text });
    }
  } catch {
    return [];
  }
  return found;
}

/** Whether this browser keeps what is typed, tried out. */
export function keepsTyped(): boolean {
  return keepTyped('', 'tried', 'x', false) && keepTyped('', 'tried', '', false);
}
