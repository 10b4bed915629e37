/** Half-typed things: kept behind the door, so that a kill loses nothing. */
import { untrack } from 'svelte';
import { call } from '../door';
import { session } from './session.svelte';

const DELAY_MS = 400;

/** What was typed since the job was last read, by job and field. */
const typed = new Map<string, string>();
const waiting = new Map<string, { job: string; field: string; timer: number }>();

function key(job: string, field: string): string {
  return `${job} ${field}`;
}

function send(job: string, field: string): void {
  const text = typed.get(key(job, field)) ?? '';
  const entry = waiting.get(key(job, field));
  if (entry) clearTimeout(entry.timer);
  waiting.delete(key(job, field));
  // A draft that can't be kept is no reason to disturb: what is typed stays on the screen.
  call({ do: 'keep_draft', job, field, text }).catch(() => undefined);
}

export function keepDraft(job: string, field: string, text: string, delay = DELAY_MS): void {
  if ((typed.get(key(job, field)) ?? session.job?.drafts[field] ?? '') === text) return;
  typed.set(key(job, field), text);
  const before = waiting.get(key(job, field));
  if (before) clearTimeout(before.timer);
  const timer = window.setTimeout(() => send(job, field), delay);
  waiting.set(key(job, field), { job, field, timer });
}

/** Sends at once what still waits. */
export function flushDrafts(): void {
  for (const { job, field } of [...waiting.values()]) send(job, field);
}

document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'hidden') flushDrafts();
});
window.addEventListener('pagehide', flushDrafts);

function kept<T>(job: string, field: string): T | undefined {
  const text = typed.get(key(job, field)) ?? session.job?.drafts[field];
  if (!text) return undefined;
  try {
    return JSON.parse(text) as T;
  } catch {
    return undefined;
  }
}

/**
 * A form of the open job. `value` starts as what was half typed, else as
 * `initial`; `done` forgets the draft and starts anew from `next`.
 * Called while a component is set up.
 */
export function draft<T>(field: string, initial: T): { value: T; done(next?: T): void } {
  const job = session.job?.id ?? '';
  const form = $state<{ value: T }>({ value: kept<T>(job, field) ?? initial });
  let empty = JSON.stringify(initial);
  $effect(() => {
    const text = JSON.stringify(form.value);
    untrack(() => keepDraft(job, field, text === empty ? '' : text));
  });
  return {
    get value() {
      return form.value;
    },
    set value(value: T) {
      form.value = value;
    },
    done(next = initial) {
      empty = JSON.stringify(next);
      form.value = JSON.parse(empty) as T;
      keepDraft(job, field, '', 0);
    },
  };
}
