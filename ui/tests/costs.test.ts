/** Prices: none has to be given, and each that is becomes a line. */
import { fireEvent, render, screen, waitFor } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import type { CostView } from '../src/door/types/CostView';
import Costs from '../src/screens/job/report/Costs.svelte';
import { session } from '../src/state/session.svelte';
import { thumb } from '../src/state/thumb.svelte';
import { openDoor } from './support/door';
import { job, stage, start, step } from './support/sample';

const asks: CostView[] = [
  { of: 'work', what: 'The work of this visit:', amount: null, text: '' },
  {
    of: 'fault',
    what: 'Have the cause of the fault found.',
    amount: { minor: 18_000, currency: 'EUR' },
    text: 'with tax',
  },
];

test('what is new or other than it was is written, the rest is not', async () => {
  const here = job([stage(1, [step('a')])]);
  session.start = start();
  session.job = here;
  const door = openDoor({
    costs: () => ({ reply: 'costs', costs: asks }),
    write: () => ({ reply: 'written', entry: 'e', job: here }),
    keep_draft: () => ({ reply: 'done' }),
  });
  let left = false;
  render(Costs, { props: { job: here, ondone: () => (left = true) } });
  const work = await screen.findByLabelText('The work of this visit:');
  await fireEvent.input(work, { target: { value: '386' } });
  thumb.action?.run();
  await waitFor(() => expect(left).toBe(true));
  expect(door.of('write').map((one) => one.fact)).toEqual([
    {
      fact: 'cost_given',
      of: 'work',
      amount: { minor: 38_600, currency: 'EUR' },
      text: '',
    },
  ]);
});
