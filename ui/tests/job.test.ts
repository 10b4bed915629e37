import { render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test, vi } from 'vitest';
import type { Command } from '../src/door/types/Command';
import type { JobView } from '../src/door/types/JobView';
import type { WantView } from '../src/door/types/WantView';
import JobScreen from '../src/screens/JobScreen.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { openDoor, type Door } from './support/door';
import { job, JOB, stage, start, step } from './support/sample';

const volume: WantView = {
  kind: 'measure',
  topic: 'fluid_out_l',
  label: 'Came out',
  unit: 'l',
  min: 0,
  max: 20,
  step: 0.1,
  adds: false,
  quick: [],
  about: null,
  optional: false,
  have: false,
  words: '',
  value: null,
  measures: 'volume',
  offers: [],
};
const smell: WantView = {
  kind: 'observe',
  topic: 'fluid_smell',
  label: 'Smell',
  choices: [
    { id: 'none', label: 'none', hold: false, alone: false, named: false },
    { id: 'burnt', label: 'burnt', hold: false, alone: false, named: false },
  ],
  several: false,
  optional: false,
  have: false,
  words: '',
  value: null,
  measures: null,
  offers: [],
};

const next = () => screen.getByTestId<HTMLButtonElement>('next');
let door: Door;

function show(view: JobView): void {
  session.start = start();
  session.job = null;
  session.trouble = null;
  session.said = null;
  door = openDoor({ job: () => ({ reply: 'job', job: view }) });
  swap(`/job/${view.id}`);
  render(JobScreen, { props: { id: view.id } });
}

beforeEach(() => vi.useRealTimers());

test('a step without wishes is ticked by the one thing to press next', async () => {
  show(job([stage(1, [step('a'), step('b', [], { standing: 'later' })]), stage(2, [step('c')])]));
  await waitFor(() => expect(next().textContent?.trim()).toBe('Tick: Step a'));
  door.answers.write = () => ({ reply: 'written', entry: 'e1', job: job([stage(1, [step('b')])]) });
  next().click();
  await waitFor(() => expect(next().textContent?.trim()).toBe('Tick: Step b'));
  expect(door.of('write')[0]).toEqual({
    do: 'write',
    job: JOB,
    fact: { fact: 'step_ticked', step: 'a' },
    sure: false,
  });
});

test('the spine names each stage and how it stands, and a press moves', async () => {
  show(job([stage(1, [step('a')]), stage(2, [step('c', [], { standing: 'later' })])]));
  const knot = await screen.findByRole('button', { name: '2 Stage 2, later' });
  expect(screen.getByRole('button', { name: '1 Stage 1, in hand' })).toBeTruthy();
  knot.click();
  await screen.findByRole('heading', { name: 'Step c' });
  await waitFor(() => expect(door.of('stand_at').at(-1)).toMatchObject({ place: 'step/c' }));
});

test('the first missing wish is open; an answer is one press', async () => {
  show(job([stage(1, [step('a', [volume, smell])])]));
  await screen.findByLabelText('Came out');
  expect(next().disabled).toBe(true);
  screen.getByRole('button', { name: 'Smell: to do' }).click();
  const burnt = await screen.findByRole('button', { name: 'burnt' });
  door.answers.write = () => ({ reply: 'written', entry: 'e', job: session.job });
  burnt.click();
  await waitFor(() =>
    expect(door.of('write')[0]?.fact).toMatchObject({ topic: 'fluid_smell', choice: 'burnt' }),
  );
});

test('what is half typed is kept, survives an error, and comes back', async () => {
  show(job([stage(1, [step('a', [volume])])]));
  await screen.findByLabelText('Came out');
  for (const key of ['4', 'point', '2']) screen.getByRole('button', { name: key }).click();
  await waitFor(() => expect(next().textContent?.trim()).toBe('Write: 4.2 l'));
  door.answers.read_numbers = ({ typed }: Extract<Command, { do: 'read_numbers' }>) => ({
    reply: 'numbers',
    numbers: typed.map((one) => Number(one.typed)),
  });
  door.answers.write = () => {
    throw { kind: 'storage', what: 'The disk is full.', do_next: 'Make room.' };
  };
  next().click();
  const alert = await screen.findByRole('alert');
  expect(alert.textContent).toContain('The disk is full.');
  expect(alert.textContent).toContain('Make room.');
  expect(door.of('read_numbers')[0]?.typed).toEqual([
    { name: 'Came out', typed: '4.2', quantity: 'volume' },
  ]);
  expect(door.of('write')[0]?.fact).toMatchObject({ value: 4.2, typed: '4.2 l' });
  expect(screen.getByLabelText<HTMLInputElement>('Came out').value).toBe('4.2');
  await waitFor(() => expect(door.of('keep_draft').at(-1)).toMatchObject({ text: '"4.2"' }), {
    timeout: 2000,
  });
});

test('a draft from before the app was ended stands in its field', async () => {
  const drafts = { 'other fluid_out_l': '"3.7"' };
  show(job([stage(1, [step('other', [volume])])], { id: `${JOB}9`, drafts }));
  const field = await screen.findByLabelText<HTMLInputElement>('Came out');
  expect(field.value).toBe('3.7');
});

test('a doubt is asked, and only "Write it anyway" sends it as sure', async () => {
  show(job([stage(1, [step('a')])]));
  await waitFor(() => expect(next().disabled).toBe(false));
  door.answers.write = (command: Extract<Command, { do: 'write' }>) => {
    if (!command.sure) throw { kind: 'doubtful', what: 'That is a lot.', do_next: 'Look again.' };
    return { reply: 'written', entry: 'e', job: session.job };
  };
  next().click();
  (await screen.findByRole('button', { name: 'Change it' })).click();
  await waitFor(() => expect(screen.queryByRole('alert')).toBeNull());
  expect(door.of('write')).toHaveLength(1);
  next().click();
  (await screen.findByRole('button', { name: 'Write it anyway' })).click();
  await waitFor(() => expect(door.of('write').at(-1)?.sure).toBe(true));
  await waitFor(() => expect(screen.queryByRole('alert')).toBeNull());
});

test('undo says what it takes back, is one press, and says that it did', async () => {
  show(job([stage(1, [step('a')])], { undo_words: 'tick of Step a' }));
  const undo = await screen.findByRole('button', { name: 'Undo: tick of Step a' });
  door.answers.undo = () => ({ reply: 'job', job: job([stage(1, [step('a')])]) });
  undo.click();
  await screen.findByText('Undone: tick of Step a');
  expect(door.of('undo')).toHaveLength(1);
});

test('what stands in the way of a tick is said, and the key can’t be pressed', async () => {
  show(job([stage(1, [step('a', [], { in_the_way: ['2 bolts are still off.'] })])]));
  await screen.findByText('2 bolts are still off.');
  expect(next().disabled).toBe(true);
});

test('a step is left out only with a reason', async () => {
  show(job([stage(1, [step('a')])]));
  (await screen.findByRole('button', { name: 'Skip, with a reason' })).click();
  await waitFor(() => expect(next().textContent?.trim()).toBe('The reason first'));
  expect(next().disabled).toBe(true);
  // A reason that has a key is written as it is pressed.
  door.answers.write = () => ({ reply: 'written', entry: 'e', job: session.job });
  screen.getByRole('button', { name: 'done before' }).click();
  await waitFor(() =>
    expect(door.of('write')[0]?.fact).toEqual({
      fact: 'step_skipped',
      step: 'a',
      reason: 'done before',
    }),
  );
});
