/** Readings at the bench: what is typed, pasted and pressed. */
import { render, screen, waitFor, within } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import type { WantView } from '../src/door/types/WantView';
import JobScreen from '../src/screens/JobScreen.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { openDoor, type Door } from './support/door';
import { job, JOB, METER, solenoid, stage, start, step } from './support/sample';

const want: WantView = {
  kind: 'readings',
  quantity: 'insulation',
  optional: false,
  have: false,
  words: '',
  value: null,
  measures: null,
  offers: [],
};

let shown = 0;
function show(over: Partial<WantView> = {}, meter: typeof METER | null = METER): Door {
  const id = `${JOB}-readings-${(shown += 1)}`;
  const wants = [{ ...want, ...over } as WantView];
  const view = job([stage(1, [step('a', wants)])], { id, components: [solenoid] });
  const { settings } = start();
  session.start = start({ settings: { ...settings, meter } });
  session.job = null;
  session.trouble = null;
  const door = openDoor({
    job: () => ({ reply: 'job', job: view }),
    read_numbers: ({ typed }) => ({ reply: 'numbers', numbers: typed.map(() => null) }),
    write: () => ({ reply: 'written', entry: 'e', job: view }),
    save_settings: ({ settings }) => ({ reply: 'settings', settings }),
  });
  swap(`/job/${id}`);
  render(JobScreen, { props: { id } });
  return door;
}
const field = () =>
  screen.findByRole<HTMLInputElement>('textbox', { name: 'What the meter shows' });
async function type(text: string): Promise<void> {
  const box = await field();
  box.value = text;
  box.dispatchEvent(new Event('input', { bubbles: true }));
}
test.each(['>40M', '>550 MΩ', 'O.F', 'OFL', '4k7', '5R6'])(
  '%s goes in by a keyboard or by pasting, with Enter for a sample',
  async (text) => {
    const door = show();
    for (let n = 0; n < 3; n += 1) {
      await type(text);
      (await field()).dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }));
    }
    await waitFor(() => expect(door.of('write')).toHaveLength(1));
    expect(door.of('write')[0]?.fact).toMatchObject({
      reading: { samples: [text, text, text], meter: METER },
    });
  },
);

test('Enter without a number takes no sample', async () => {
  const door = show();
  await type('13.1');
  for (let n = 0; n < 4; n += 1)
    (await field()).dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }));
  await screen.findByRole('button', { name: 'Remove sample 13.1' });
  expect(screen.getAllByRole('button', { name: 'Remove sample 13.1' })).toHaveLength(1);
  expect(door.of('write')).toHaveLength(0);
});

test('no meter is named that nobody chose, and the one chosen stays for this device', async () => {
  const door = show({}, null);
  const bar = await screen.findByTestId<HTMLButtonElement>('next');
  await waitFor(() => expect(bar.textContent?.trim()).toBe('Which meter?'));
  expect(bar.disabled).toBe(true);
  (await screen.findByRole('button', { name: /^ordinary/ })).click();
  await waitFor(() => expect(door.of('save_settings')[0]?.settings.meter).toEqual(METER));
  await waitFor(() =>
    expect(screen.getByTestId('next').textContent?.trim()).toBe('Read Solenoid A'),
  );
});

test('leads that are typed are a reading of the leads, no word on the contact', async () => {
  const door = show({ quantity: 'resistance' } as Partial<WantView>);
  (await screen.findByRole('button', { name: '0.3' })).click();
  for (let n = 0; n < 3; n += 1) {
    await type('13.1');
    (await field()).dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }));
  }
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({
    reading: { leads: '0.3', contact_shown: false },
  });
});

test('a number near those of like parts is one key, that it showed so three times', async () => {
  const near = [{ component: 'part', typed: ['12.9', '13.0', '13.1'] }];
  const door = show({ quantity: 'resistance', near } as Partial<WantView>);
  (await screen.findByRole('button', { name: '0.3' })).click();
  (await screen.findByRole('button', { name: '13.0' })).click();
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({
    component: 'part',
    reading: { samples: ['13.0', '13.0', '13.0'] },
  });
});

test('the tenth of a number is its last press, and none is offered behind a mark', async () => {
  const door = show({ quantity: 'resistance' } as Partial<WantView>);
  (await screen.findByRole('button', { name: '0.3' })).click();
  const alike = { name: 'Three times alike' };
  await type('13.1');
  await waitFor(() => expect(screen.getByTestId('next').textContent).toContain('13.1'));
  expect(screen.queryByRole('group', alike)).toBeNull();
  await type('37');
  const keys = within(await screen.findByRole('group', alike));
  expect(keys.getAllByRole('button')).toHaveLength(10);
  keys.getByRole('button', { name: '37.8' }).click();
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({
    reading: { samples: ['37.8', '37.8', '37.8'], leads: '0.3' },
  });
});
