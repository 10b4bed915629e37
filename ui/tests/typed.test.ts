/** What is typed is in the browser at once, and stays until the hub has it. */
import { render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test, vi } from 'vitest';
import { asProblem } from '../src/door';
import { typedBefore, typedWaiting } from '../src/door/typed';
import type { JobView } from '../src/door/types/JobView';
import type { WantView } from '../src/door/types/WantView';
import JobScreen from '../src/screens/JobScreen.svelte';
import { sendWaiting } from '../src/state/draft.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { openDoor, type Door } from './support/door';
import { job, JOB, stage, start, step } from './support/sample';

const complaint: WantView = {
  kind: 'complaint',
  when: [],
  symptoms: [],
  optional: false,
  have: false,
  words: '',
  value: null,
  measures: null,
  offers: [],
};
const gone = () => {
  throw { kind: 'hub', what: 'The store does not answer.', do_next: '' };
};
const field = () =>
  screen.findByRole<HTMLTextAreaElement>('textbox', { name: "In the customer's words" });

let shown = 0;
const fresh = (over: Partial<JobView> = {}) =>
  job([stage(1, [step('a', [complaint])])], { id: `${JOB}-typed-${(shown += 1)}`, ...over });
function show(view: JobView, door: Door): void {
  session.start = start();
  session.job = null;
  session.trouble = null;
  door.answers.job = () => ({ reply: 'job', job: view });
  swap(`/job/${view.id}`);
  render(JobScreen, { props: { id: view.id } });
}
async function type(text: string): Promise<void> {
  const box = await field();
  box.value = text;
  box.dispatchEvent(new Event('input', { bubbles: true }));
}

beforeEach(() => localStorage.clear());

test('a letter is in the browser before the hub is asked, and stays while the hub is away', async () => {
  const view = fresh();
  const door = openDoor({ keep_draft: gone });
  show(view, door);
  await type('it bangs');
  await waitFor(() =>
    expect(typedBefore(view.id, 'complaint')).toEqual({
      text: expect.stringContaining('it bangs'),
      waits: true,
    }),
  );
  expect(door.of('keep_draft')).toHaveLength(0);
  await waitFor(() => expect(door.of('keep_draft')).toHaveLength(1), { timeout: 2000 });
  expect(typedWaiting()).toHaveLength(1);
  // The hub is back: it gets it, and then both have it.
  door.answers.keep_draft = () => ({ reply: 'done' });
  sendWaiting();
  await waitFor(() => expect(typedWaiting()).toHaveLength(0));
  expect(typedBefore(view.id, 'complaint')?.text).toContain('it bangs');
});

test('what the hub never got comes before what it has', async () => {
  const drafts = { complaint: JSON.stringify({ words: 'old', when: [], symptoms: [] }) };
  const view = fresh({ drafts });
  const text = JSON.stringify({ words: 'newer', when: [], symptoms: [] });
  localStorage.setItem(
    `swarfbook typed ${view.id} complaint`,
    JSON.stringify({ text, waits: true }),
  );
  show(view, openDoor({}));
  await waitFor(async () => expect((await field()).value).toBe('newer'));
});

test('what the hub has of this browser comes before what only once waited', async () => {
  const drafts = { complaint: JSON.stringify({ words: 'kept later', when: [], symptoms: [] }) };
  const view = fresh({ drafts });
  localStorage.setItem(
    `swarfbook typed ${view.id} complaint`,
    JSON.stringify({ text: '{"words":"stale"}', waits: false }),
  );
  show(view, openDoor({}));
  await waitFor(async () => expect((await field()).value).toBe('kept later'));
});

test('what the hub does not have is there from this browser', async () => {
  const view = fresh();
  const text = JSON.stringify({ words: 'here before', when: [], symptoms: [] });
  localStorage.setItem(
    `swarfbook typed ${view.id} complaint`,
    JSON.stringify({ text, waits: false }),
  );
  show(view, openDoor({}));
  await waitFor(async () => expect((await field()).value).toBe('here before'));
});

test('the screen promises only what the browser keeps', () => {
  expect(asProblem(new Error('x')).do_next).toContain('Nothing typed is lost.');
  vi.stubGlobal('localStorage', {
    setItem() {
      throw new DOMException('full', 'QuotaExceededError');
    },
  });
  expect(asProblem(new Error('x')).do_next).toContain('Keep this page open');
  vi.unstubAllGlobals();
});
