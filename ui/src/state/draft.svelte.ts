/**
 * Half-typed things. Each letter is kept in this browser at once, and behind the door a moment
 * later, so that neither a reload nor a kill nor a hub that is away loses one; from then on both have it.
 */
import { untrack } from 'svelte';
import { call } from '../door';
import { keepTyped, typedBefore, typedWaiting } from '../door/typed';
import { session } from './session.svelte';

const DELAY_MS = 400;
/** How often what the hub did not take is offered to it again. */
const AGAIN_MS = 5_000;

/** What was typed since the job was last read, by job and field. */
const typed = new Map<string, string>();
const waiting = new Map<string, { job: string; field: string; timer: number }>();
let again = 0;

function key(job: string, field: string): string {
  return `${job} ${field}`;
}

function send(job: string, field: string, text = typed.get(key(job, field)) ?? ''): void {
  const entry = waiting.get(key(job, field));
  if (entry) clearTimeout(entry.timer);
  waiting.delete(key(job, field));
  call({ do: 'keep_draft', job, field, text }).then(
    () => {
      // Typed on meanwhile: that one is on its way itself.
      if ((typed.get(key(job, field)) ?? text) === text) keepTyped(job, field, text, false);
    },
    // No reason to disturb: it stays in this browser, and is offered again.
    () => sendAgain(),
  );
}

function sendAgain(): void {
  clearTimeout(again);
  again = window.setTimeout(() => {
    for (const { job, field, text } of typedWaiting()) send(job, field, text);
  }, AGAIN_MS);
}

export function keepDraft(job: string, field: string, text: string, delay = DELAY_MS): void {
  if ((typed.get(key(job, field)) ?? keptText(job, field) ?? '') === text) return;
  typed.set(key(job, field), text);
  keepTyped(job, field, text, true);
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

/** Offers the hub what an earlier page could not. */
export function sendWaiting(): void {
  for (const { job, field, text } of typedWaiting()) send(job, field, text);
}

/** What this browser has and the hub not, else what the hub has of this browser. */
function keptText(job: string, field: string): string | undefined {
  const here = typedBefore(job, field);
  if (here?.waits) return here.text;
  return (session.job?.id === job ? session.job.drafts[field] : undefined) ?? here?.text;
}

function kept<T>(job: string, field: string): T | undefined {
  const text = typed.get(key(job, field)) ?? keptText(job, field);
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
  return formOf<T>(initial, kept<T>(job, field), (text, delay) => {
    keepDraft(job, field, text, delay);
  });
}

/** The same of what belongs to no job, such as a name on the first screen: this browser alone has it. */
export function typedHere<T>(field: string, initial: T): { value: T; done(next?: T): void } {
  const here = typedBefore(HERE, field)?.text;
  let before: T | undefined;
  try {
    before = here ? (JSON.parse(here) as T) : undefined;
  } catch {
    before = undefined;
  }
  return formOf<T>(initial, before, (text) => keepTyped(HERE, field, text, false));
}

/** In place of a job. */
const HERE = 'here';

function formOf<T>(
  initial: T,
  before: T | undefined,
  keep: (text: string, delay?: number) => unknown,
): { value: T; done(next?: T): void } {
  const form = $state<{ value: T }>({ value: before ?? initial });
  let empty = JSON.stringify(initial);
  $effect(() => {
    const text = JSON.stringify(form.value);
    untrack(() => keep(text === empty ? '' : text));
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
      keep('', 0);
    },
  };
}
