/** Nothing is claimed that nobody pressed: a step opens with no answer filled in. */
import { render, screen, waitFor } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import type { JobView } from '../src/door/types/JobView';
import type { WantView } from '../src/door/types/WantView';
import JobScreen from '../src/screens/JobScreen.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { openDoor, type Door } from './support/door';
import { job, JOB, stage, start, step } from './support/sample';

const base = {
  optional: false,
  have: false,
  words: '',
  value: null,
  measures: null,
  offers: [],
};
const next = () => screen.getByTestId<HTMLButtonElement>('next');
const said = () => next().textContent?.trim();
const press = async (name: string) => (await screen.findByRole('button', { name })).click();

let shown = 0;
function show(want: WantView, over: Partial<JobView> = {}): Door {
  shown += 1;
  const view = job([stage(1, [step('a', [want])])], { id: `${JOB}-${shown}`, ...over });
  session.start = start();
  session.job = null;
  session.trouble = null;
  const door = openDoor({
    job: () => ({ reply: 'job', job: view }),
    read_numbers: () => ({ reply: 'numbers', numbers: [12] }),
    write: () => ({ reply: 'written', entry: 'e', job: view }),
  });
  swap(`/job/${view.id}`);
  render(JobScreen, { props: { id: view.id } });
  return door;
}
const refused = async (words: string) => {
  await waitFor(() => expect(said()).toBe(words));
  expect(next().disabled).toBe(true);
};
const written = async (door: Door) => {
  await waitFor(() => expect(next().disabled).toBe(false));
  next().click();
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  return door.of('write')[0]?.fact;
};

test('that there are no codes is a press of its own', async () => {
  const door = show({ ...base, kind: 'codes', moment: 'before' });
  await refused('A code, or “No codes set”');
  await press('No codes set');
  await waitFor(() => expect(said()).toBe('Write: no codes set'));
  expect(await written(door)).toMatchObject({ fact: 'codes_read', codes: [] });
});

test('whether a code is stored or pending is a press of its own', async () => {
  const door = show({ ...base, kind: 'codes', moment: 'before' });
  for (const key of ['P07', '4', '1']) await press(key);
  await refused('Stored or pending?');
  await press('Pending');
  expect(await written(door)).toMatchObject({ codes: [{ code: 'P0741', state: 'pending' }] });
});

test('who agreed, how and up to how much is pressed, not filled in', async () => {
  const customer = { id: 'c', name: 'C. Sample', contact: '', erased: false };
  const door = show({ ...base, kind: 'go_ahead' }, { customer });
  await refused('Who agreed?');
  await press('C. Sample');
  await refused('How did they agree?');
  await press('By telephone');
  await refused('Up to how much, or no limit?');
  await press('No limit agreed');
  await waitFor(() => expect(said()).toBe('Write: C. Sample, no limit'));
  expect(await written(door)).toMatchObject({
    go_ahead: { by: 'C. Sample', how: 'phone', limit: null },
  });
});

test('that a part was replaced, and that the old one is kept, is pressed', async () => {
  const door = show({ ...base, kind: 'replace', what: 'filter', electrical: false });
  await refused('What was replaced?');
  await press('filter');
  await refused('Where is the old one?');
  await press('Not kept');
  await waitFor(() => expect(said()).toBe('Write: filter replaced'));
  expect(await written(door)).toMatchObject({
    replacement: { what: 'filter', kept_for_customer: false },
  });
});

test('that all were started by hand is pressed', async () => {
  const door = show({ ...base, kind: 'tighten', what: 'drain plug', passes: 1 });
  await press('By hand, to feel');
  await refused('Press “All started by hand” when they are');
  await press('All started by hand');
  await waitFor(() => expect(said()).toBe('Write: drain plug to feel'));
  expect(await written(door)).toMatchObject({ by_hand_first: true });
});
