/** What survives leaving and coming back, and what does not and says so. */
import { cleanup, render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test } from 'vitest';
import Meter from '../src/paper/Meter.svelte';
import JobScreen from '../src/screens/JobScreen.svelte';
import Settings from '../src/screens/Settings.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { openDoor } from './support/door';
import { job, JOB, stage, start, step } from './support/sample';

beforeEach(() => {
  localStorage.clear();
  session.trouble = null;
});

const field = (name: string) => screen.getByRole<HTMLInputElement>('textbox', { name });
function type(name: string, text: string): void {
  const box = field(name);
  box.value = text;
  box.dispatchEvent(new Event('input', { bubbles: true }));
}
const kept = () => Object.keys(localStorage).filter((name) => name.includes('settings'));

test('settings that were left are not kept later over those of the shop', async () => {
  openDoor({});
  session.start = start();
  render(Settings, { props: { start: session.start } });
  type("The shop's name", 'Half typed');
  await waitFor(() => expect(kept()).toHaveLength(1));
  // The browser's back, and weeks later, when another has named the shop.
  cleanup();
  expect(kept()).toEqual([]);
  const { settings } = start();
  session.start = start({ settings: { ...settings, shop: 'Renamed Gearboxes' } });
  render(Settings, { props: { start: session.start } });
  expect(field("The shop's name").value).toBe('Renamed Gearboxes');
});

test("one's own meter, half typed, is there after a reload", async () => {
  const props = { meters: start().meters, meter: null, onpick: () => undefined };
  render(Meter, { props });
  screen.getByRole('button', { name: 'Enter its accuracy' }).click();
  await screen.findByRole('textbox', { name: 'Percent of reading' });
  type('Percent of reading', '0.8');
  await waitFor(() => expect(JSON.stringify({ ...localStorage })).toContain('0.8'));
  cleanup();
  render(Meter, { props });
  expect(field('Percent of reading').value).toBe('0.8');
});

test('a photo that could not be kept says that it is on this page alone; “again” takes no press yet', async () => {
  URL.createObjectURL = () => 'blob:still';
  URL.revokeObjectURL = () => undefined;
  const here = job([stage(1, [step('a')])]);
  session.start = start();
  session.job = here;
  openDoor({
    job: () => ({ reply: 'job', job: here }),
    write: () => {
      throw { kind: 'hub', what: 'The store does not answer.', do_next: '' };
    },
  });
  swap(`/job/${JOB}/camera/a/patch`);
  render(JobScreen, { props: { id: JOB } });
  const file = await screen.findByLabelText<HTMLInputElement>('Photo file');
  Object.defineProperty(file, 'files', { value: [new File(['x'], 'x.jpg')] });
  file.dispatchEvent(new Event('change', { bubbles: true }));
  await screen.findByText(/on this page alone/);
  const resting = () => document.documentElement.dataset.settling;
  await waitFor(() => expect(resting()).toBeUndefined(), { timeout: 2000 });
  screen.getByRole('button', { name: 'Take it again' }).click();
  await waitFor(() => expect(resting()).toBe('all'));
  expect(screen.queryByText(/on this page alone/)).toBeNull();
});
