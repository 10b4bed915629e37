import { render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test, vi } from 'vitest';
import App from '../src/App.svelte';
import { save } from '../src/state/files';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { keepAwake } from '../src/state/wake';
import { openDoor, type Door } from './support/door';
import { JOB, job, stage, start, step } from './support/sample';

const next = () => screen.getByTestId<HTMLButtonElement>('next');
let door: Door;

beforeEach(() => {
  vi.stubGlobal('scrollTo', () => undefined);
  session.start = session.pairing = session.waiting = session.job = null;
  session.strays = [];
  swap('/');
  door = openDoor({
    start: () => ({ reply: 'start', start: start() }),
    jobs: () => ({ reply: 'jobs', jobs: [], total: 0 }),
    sync_state: () => ({
      reply: 'sync',
      sync: { hub: null, last: null, lines_waiting: 0, photos_waiting: 0, words: '' },
    }),
  });
});

test('a link of the hub fills in address and code, and pairs on a press', async () => {
  door.shell.handed_in = () => ({
    what: 'pair',
    address: 'https://192.0.2.7:8350',
    code: '12345678',
    fingerprint: 'ab'.repeat(32),
  });
  render(App);
  await waitFor(() => expect(next().textContent?.trim()).toBe('Pair with the hub'));
  expect(screen.getByLabelText<HTMLInputElement>('Address').value).toBe('https://192.0.2.7:8350');
  expect(door.of('pair')).toEqual([]);
  next().click();
  await waitFor(() =>
    expect(door.of('pair')[0]).toMatchObject({
      address: 'https://192.0.2.7:8350',
      code: '12345678',
      fingerprint: 'ab'.repeat(32),
    }),
  );
});

test('an export comes in on a press, and it is said how much', async () => {
  const taken = vi.fn(() => ({ lines: 120, photos: 1, unsigned: 3 }));
  door.shell.handed_in = () => ({ what: 'export', name: 'all.zip' });
  door.shell.take_in = taken;
  render(App);
  await screen.findByText('all.zip');
  await waitFor(() => expect(next().textContent?.trim()).toBe('Import it'));
  expect(taken).not.toHaveBeenCalled();
  next().click();
  await screen.findByText(
    '120 lines and 1 photo imported. 3 lines are signed by nobody: nothing shows that their devices wrote them.',
  );
});

test('the gauge card goes out to be printed before the first job', async () => {
  const handed = vi.fn(() => ({ place: '/downloads/gauge-card.pdf' }));
  door.answers.start = () => ({ reply: 'start', start: start({ first_run: true }) });
  door.answers.gauge_card = () => ({ reply: 'gauge_card', base64: btoa('%PDF') });
  door.shell.hand_over = handed;
  render(App);
  (await screen.findByRole('button', { name: 'The gauge card, to print' })).click();
  await waitFor(() => expect(handed).toHaveBeenCalledOnce());
  expect(door.of('gauge_card')).toEqual([{ do: 'gauge_card', language: 'en' }]);
  await screen.findByText('The file is kept: /downloads/gauge-card.pdf');
});

test('a file that can not be read is told in words', async () => {
  door.shell.handed_in = () => {
    throw { kind: 'storage', what: 'The file can not be read.', do_next: 'Save it first.' };
  };
  render(App);
  await screen.findByText(/The file can not be read\./);
});

test("the phone's screen is kept awake by the shell, in a job and not after it", async () => {
  const asked: unknown[] = [];
  door.shell.keep_awake = (payload) => void asked.push(payload);
  const agent = vi.spyOn(navigator, 'userAgent', 'get').mockReturnValue('X (Linux; Android 15) wv');
  keepAwake(true);
  keepAwake(false);
  await waitFor(() => expect(asked).toEqual([{ awake: true }, { awake: false }]));
  agent.mockRestore();
});

test('in the app a file goes to the shell whole, and it is said where it lies', async () => {
  let handed: unknown;
  door.shell.hand_over = (payload) => {
    handed = payload;
    return { place: '/downloads/a.pdf' };
  };
  await save(new File(['a report'], 'a.pdf'));
  expect(handed).toEqual({ file: { name: 'a.pdf', base64: btoa('a report') } });
  expect(session.said).toBe('The file is kept: /downloads/a.pdf');
});

test('the page that checks a report is handed on as it came with the app', async () => {
  let handed: unknown;
  door.shell.hand_over = (payload) => {
    handed = payload;
    return { place: '/downloads/check.html' };
  };
  const fetched = vi.fn(async () => new Response('<!DOCTYPE html>', { status: 200 }));
  vi.stubGlobal('fetch', fetched);
  swap('/more');
  render(App);
  const key = await screen.findByRole('button', { name: 'The page that checks a report' });
  key.click();
  await waitFor(() =>
    expect(handed).toEqual({
      file: { name: 'check-a-report.html', base64: btoa('<!DOCTYPE html>') },
    }),
  );
  await waitFor(() => expect(session.busy).toBeNull());
  fetched.mockResolvedValue(new Response('', { status: 404 }));
  key.click();
  await screen.findByText(/not built into this app/);
});

const LOST = { photo: 'ab'.repeat(32), taken: Date.UTC(2026, 4, 4, 8, 15), whole: true };

/** The app as it is opened again after the system ended it beside the phone's camera. */
function endedBeside(place: string): void {
  const opened = job([stage(1, [step('a'), step('b')])]);
  door.answers.start = () => ({ reply: 'start', start: start({ job: JOB, place }) });
  door.answers.job = () => ({ reply: 'job', job: opened });
  door.answers.write = () => ({ reply: 'written', entry: 'line', job: opened });
  door.shell.drop_stray = () => null;
}

test('a photo that never came back is kept for the step that the camera was open for', async () => {
  endedBeside('camera/b/leak');
  door.shell.strays = () => [LOST];
  render(App);
  await waitFor(() => expect(next().textContent?.trim()).toBe('Keep this photo'));
  expect(screen.getByText('Step b')).toBeTruthy();
  expect(screen.getByRole<HTMLImageElement>('img').src).toContain(LOST.photo);
  expect(door.of('write')).toEqual([]);
  next().click();
  await waitFor(() =>
    expect(door.of('write')[0]?.fact).toMatchObject({
      fact: 'photo_taken',
      step: 'b',
      photo: LOST.photo,
      subject: 'leak',
    }),
  );
  await waitFor(() => expect(session.strays).toEqual([]));
});

test('what it shows can be said, where the camera was open for no step', async () => {
  endedBeside('');
  door.shell.strays = () => [LOST];
  render(App);
  (await screen.findByRole('button', { name: 'The pan' })).click();
  next().click();
  await waitFor(() =>
    expect(door.of('write')[0]?.fact).toMatchObject({ step: 'a', subject: 'pan' }),
  );
});

test('a photo is left out by two presses, and not by one', async () => {
  endedBeside('camera/b/leak');
  const dropped = vi.fn(() => null);
  door.shell.strays = () => [LOST];
  door.shell.drop_stray = dropped;
  render(App);
  (await screen.findByRole('button', { name: 'Leave this photo out' })).click();
  await waitFor(() => expect(next().textContent?.trim()).toBe('Leave it out for good'));
  expect(dropped).not.toHaveBeenCalled();
  next().click();
  await waitFor(() => expect(dropped).toHaveBeenCalledWith({ photo: LOST.photo }));
  await waitFor(() => expect(session.strays).toEqual([]));
  expect(door.of('write')).toEqual([]);
});

test('a file that is no whole photo can only be left out', async () => {
  endedBeside('camera/b/leak');
  door.shell.strays = () => [{ ...LOST, whole: false }];
  render(App);
  await screen.findByText(/that is no whole photo/);
  expect(screen.queryByRole('img')).toBeNull();
  expect(next().textContent?.trim()).toBe('Leave it out for good');
});

test('ended right after the last one was kept, the app opens on the step', async () => {
  endedBeside('stray/b/leak');
  render(App);
  await screen.findByRole('heading', { name: 'Step a' });
  expect(screen.queryByText('No photo waits here.')).toBeNull();
});

test('with no job in hand the list tells that one waits', async () => {
  door.shell.strays = () => [LOST];
  render(App);
  await screen.findByText(/1 photo of the phone’s camera came into no job/);
});
