/** A time that a step asks for: taken between two presses, kept until it is written, or typed. */
import { render, screen, waitFor } from '@testing-library/svelte';
import { afterEach, expect, test, vi } from 'vitest';
import type { WantView } from '../src/door/types/WantView';
import JobScreen from '../src/screens/JobScreen.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { tooSoon } from '../src/state/settle.svelte';
import { openDoor, type Door } from './support/door';
import { job, JOB, stage, start, step } from './support/sample';

let clock = 0;
let shown = 0;

function show(write: () => unknown): Door {
  clock = 5_000;
  vi.spyOn(performance, 'now').mockImplementation(() => clock);
  const want: WantView = {
    kind: 'timed',
    topic: 'take_up_d',
    label: 'From N to D',
    max_s: 30,
    optional: false,
    have: false,
    words: '',
    value: null,
    measures: null,
    offers: [],
  };
  const id = `${JOB}-timed-${(shown += 1)}`;
  const view = job([stage(1, [step('a', [want])])], { id });
  session.start = start();
  session.job = null;
  session.trouble = null;
  const door = openDoor({
    job: () => ({ reply: 'job', job: view }),
    read_numbers: ({ typed }) => ({
      reply: 'numbers',
      numbers: typed.map((one) => Number(one.typed)),
    }),
    write: () => write() ?? { reply: 'written', entry: 'e', job: view },
  });
  swap(`/job/${id}`);
  render(JobScreen, { props: { id } });
  return door;
}
afterEach(() => vi.restoreAllMocks());

const next = () => screen.getByTestId<HTMLButtonElement>('next');
const says = (text: string) => waitFor(() => expect(next().textContent.trim()).toBe(text));

async function run(ms: number): Promise<void> {
  await says('Start the watch');
  clock += 10_000;
  next().click();
  await says('Stop the watch');
  // A bounce of the same press stops nothing; the key rests no longer than that.
  next().click();
  clock += 400;
  expect(tooSoon(next())).toBe(false);
  clock += ms - 400;
  await waitFor(() => expect(screen.getByRole('timer').textContent).toBe(`${ms / 1000} s`));
  await waitFor(() => expect(next().disabled).toBe(false));
  next().click();
}

test('the time from one press to the next is written, in seconds', async () => {
  const door = show(() => null);
  await run(1_200);
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toEqual({
    fact: 'measured',
    step: 'a',
    topic: 'take_up_d',
    value: 1.2,
    typed: '1.2 s',
  });
});

test('a time that could not be written is still there to be written', async () => {
  let fails = true;
  const door = show(() => {
    if (fails) throw new Error('no hub');
  });
  await run(900);
  await says('Write: 0.9 s');
  fails = false;
  await waitFor(() => expect(session.busy).toBeFalsy());
  next().click();
  await waitFor(() => expect(door.of('write')).toHaveLength(2));
  expect(door.of('write')[1]?.fact).toMatchObject({ value: 0.9, typed: '0.9 s' });
});
