import { render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test, vi } from 'vitest';
import App from '../src/App.svelte';
import { save } from '../src/state/files';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { keepAwake } from '../src/state/wake';
import { openDoor, type Door } from './support/door';
import { start } from './support/sample';

const next = () => screen.getByTestId<HTMLButtonElement>('next');
let door: Door;

beforeEach(() => {
  vi.stubGlobal('scrollTo', () => undefined);
  session.start = session.pairing = session.waiting = null;
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
    address: 'http://192.0.2.7:8350',
    code: '12345678',
  });
  render(App);
  await waitFor(() => expect(next().textContent?.trim()).toBe('Pair with the hub'));
  expect(screen.getByLabelText<HTMLInputElement>('Address').value).toBe('http://192.0.2.7:8350');
  expect(door.of('pair')).toEqual([]);
  next().click();
  await waitFor(() =>
    expect(door.of('pair')[0]).toMatchObject({
      address: 'http://192.0.2.7:8350',
      code: '12345678',
    }),
  );
});

test('an export comes in on a press, and it is said how much', async () => {
  const taken = vi.fn(() => ({ lines: 120, photos: 1 }));
  door.shell.handed_in = () => ({ what: 'export', name: 'all.zip' });
  door.shell.take_in = taken;
  render(App);
  await screen.findByText('all.zip');
  await waitFor(() => expect(next().textContent?.trim()).toBe('Take it in'));
  expect(taken).not.toHaveBeenCalled();
  next().click();
  await screen.findByText('120 lines and 1 photo came in.');
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
