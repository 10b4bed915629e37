/** Nothing is claimed that nobody pressed: a step opens with no answer filled in. */
import { cleanup, render, screen, waitFor, within } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import type { JobView } from '../src/door/types/JobView';
import type { PassView } from '../src/door/types/PassView';
import type { TighteningView } from '../src/door/types/TighteningView';
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
const press = async (name: string | RegExp) =>
  (await screen.findByRole('button', { name })).click();

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
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({ fact: 'codes_read', codes: [] });
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
  await press('C. Sample, by telephone');
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
  // One key says both; another thing is typed, and then where the old one is.
  await press('filter replaced, old one not kept');
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({
    replacement: { what: 'filter', kept_for_customer: false },
  });
});

test('that all were started by hand is pressed', async () => {
  const door = show({ ...base, kind: 'tighten', what: 'drain plug', passes: 1 });
  await press('By hand, to feel');
  await refused('Press “All started by hand” when they are');
  await press('All started by hand');
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({ by_hand_first: true });
});

test('how many passes were made is pressed where more than one are asked for', async () => {
  const door = show({ ...base, kind: 'tighten', what: 'pan bolts', passes: 3 });
  await press('By hand, to feel');
  await press('All started by hand');
  await refused('How many passes?');
  await press('2');
  expect(await written(door)).toMatchObject({ passes: 2 });
});

test('one key says both that all were started by hand and how many passes were made', async () => {
  const door = show({ ...base, kind: 'tighten', what: 'pan bolts', passes: 3 });
  await screen.findByRole('button', { name: 'All started by hand' });
  // Not before it is said how tight: a key that writes has all words beside it.
  expect(screen.queryByRole('button', { name: /then 3 passes/ })).toBeNull();
  await press('By hand, to feel');
  expect(door.of('write')).toHaveLength(0);
  await press('All started by hand, then 3 passes');
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({ by_hand_first: true, passes: 3 });
});

const pass = (words: string, by_hand = false): PassView => ({
  words,
  by_hand,
  torque_nm: by_hand ? null : 10,
  set_nm: null,
  set_words: null,
  scale_words: null,
});
const plan = (passes: PassView[]): TighteningView => ({
  torque_nm: 10,
  torque_words: '',
  doubt: null,
  doubt_instead: null,
  tool_words: null,
  bolts: [1, 2, 3].map((turn) => ({ x: turn / 3, y: 0.5, turn })),
  aspect: 1.4,
  photo: null,
  places_words: '3 bolts',
  passes,
  cautions: [],
});
async function planned(): Promise<Door> {
  const door = show({ ...base, kind: 'tighten', what: 'pan bolts', passes: 2 });
  const passes = [pass('by hand first', true), pass('to 5'), pass('to 10'), pass('once more')];
  door.answers.plan_tightening = () => ({ reply: 'tightening', plan: plan(passes) });
  door.answers.read_numbers = ({ typed }) => ({
    reply: 'numbers',
    numbers: typed.map((one) => (one.typed === '' ? null : Number(one.typed))),
  });
  await screen.findByRole('button', { name: '0' });
  for (const key of ['1', '0']) {
    const pad = screen.getByRole('group', { name: 'Number keys' });
    within(pad).getByRole('button', { name: key }).click();
  }
  await press('Order and passes');
  await screen.findByRole('button', { name: /by hand first/ });
  return door;
}

test('a plan that is only looked at claims no order and no last round', async () => {
  const door = await planned();
  await press('All started by hand');
  await refused('How many passes?');
  within(screen.getByRole('group', { name: 'Passes' }))
    .getByRole('button', { name: '2' })
    .click();
  const fact = await written(door);
  expect(fact).toMatchObject({ passes: 2, by_hand_first: true });
  expect(fact).not.toHaveProperty('bolts');
  expect(fact).not.toHaveProperty('last_round');
});

test('a pass that is ticked is claimed, and one that is not is not', async () => {
  const door = await planned();
  await refused('Press “All started by hand” when they are');
  for (const name of [/by hand first/, /to 5/, /to 10/]) {
    await waitFor(async () =>
      expect((await screen.findByRole<HTMLButtonElement>('button', { name })).disabled).toBe(false),
    );
    await press(name);
  }
  await refused('How many passes?');
  await press(/once more/);
  await waitFor(() => expect(said()).toMatch(/^Write: pan bolts/));
  // Taken back: the last round was not made, and the passes stay as they were said.
  await press(/once more/);
  expect(await written(door)).toMatchObject({ passes: 2, by_hand_first: true, bolts: 3 });
  expect(door.of('write')[0]?.fact).not.toHaveProperty('last_round');
});

test('how many came off is pressed', async () => {
  show({ ...base, kind: 'parts_off', optional: true, opens: true });
  await press('bracket');
  await refused('How many?');
  const count = screen.getByRole('textbox', { name: 'How many' });
  expect(count).toHaveProperty('value', '');
});

test('the place is the last word of what came off, and writes it', async () => {
  const door = show({ ...base, kind: 'parts_off', optional: true, opens: true });
  await press('bolts M8');
  await press('middle');
  // No count yet: nothing is written, and the place stands.
  await refused('How many?');
  expect(door.of('write')).toHaveLength(0);
  const count = screen.getByRole('group', { name: 'So many' });
  within(count).getByRole('button', { name: '4' }).click();
  await waitFor(() => expect(said()).toBe('Off: 4 bolts M8'));
  expect(door.of('write')).toHaveLength(0);
  await press('rear');
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({
    part: { item: 'bolts', size: 'M8', count: 4, place: 'rear' },
  });
});

test('“none” is no answer before it is pressed', async () => {
  const choice = (id: string, alone = false) => ({
    id,
    label: id,
    hold: false,
    alone,
    named: false,
  });
  for (const several of [false, true]) {
    const door = show({
      ...base,
      kind: 'observe',
      topic: 'chunk',
      label: 'A piece that can be named?',
      choices: [choice('none', true), choice('a spring')],
      several,
      values: [],
      said: [],
    } as WantView);
    const none = await screen.findByRole('button', { name: 'none' });
    expect(none.getAttribute('aria-pressed')).toBe('false');
    expect(next().disabled).toBe(true);
    expect(door.of('write')).toHaveLength(0);
    none.click();
    await waitFor(() => expect(door.of('write')[0]?.fact).toMatchObject({ choice: 'none' }));
    cleanup();
  }
});
