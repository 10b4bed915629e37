import { render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test } from 'vitest';
import App from '../src/App.svelte';
import type { Command } from '../src/door/types/Command';
import { swap } from '../src/state/route.svelte';
import { attempt, loadJob, session } from '../src/state/session.svelte';
import { openDoor } from './support/door';
import { job, JOB, stage, start, step } from './support/sample';

function jobs(count: number) {
  return ({ skip, limit }: Extract<Command, { do: 'jobs' }>) => ({
    reply: 'jobs',
    total: count,
    jobs: Array.from({ length: Math.max(0, Math.min(limit, count - skip)) }, (_, index) => ({
      id: `${JOB}${skip + index}`,
      title: `PLATE ${skip + index}`,
      subtitle: 'a car',
      stage: 'Take in',
      stages_done: 1,
      stages: 10,
      touched: '2026-05-01T08:00:00Z',
      demo: false,
    })),
  });
}

beforeEach(() => {
  session.start = null;
  session.job = null;
  session.busy = null;
  session.trouble = null;
  swap('/');
});

test('3,000 jobs cost a screenful: few rows, few pages', async () => {
  const door = openDoor({
    start: () => ({ reply: 'start', start: start({ jobs: 3000 }) }),
    jobs: jobs(3000),
  });
  render(App);
  await screen.findByText('3000 jobs');
  await waitFor(() => expect(screen.getAllByText(/^PLATE /).length).toBeGreaterThan(0));
  expect(document.querySelectorAll('ul li').length).toBeLessThan(40);
  expect(door.of('jobs').length).toBeLessThan(4);
  expect(door.of('jobs')[0]).toMatchObject({ skip: 0, limit: 50 });
});

test('an empty store is kind, and New job opens one', async () => {
  const door = openDoor({
    start: () => ({ reply: 'start', start: start() }),
    jobs: jobs(0),
    open_job: () => ({ reply: 'job', job: job([stage(1, [step('a')])]) }),
  });
  render(App);
  await screen.findByText('The book is empty.');
  screen.getByRole('button', { name: 'New job' }).click();
  await screen.findByRole('heading', { name: 'Step a' });
  expect(door.of('open_job')).toEqual([{ do: 'open_job', procedure: null }]);
});

test('the first run asks for a name and keeps what was chosen', async () => {
  const door = openDoor({
    start: () => ({
      reply: 'start',
      start: start({
        first_run: true,
        settings: { ...start().settings, technician: '', shop: '' },
      }),
    }),
    save_settings: ({ settings }) => ({ reply: 'settings', settings }),
    jobs: jobs(0),
  });
  render(App);
  const next = await screen.findByTestId<HTMLButtonElement>('next');
  expect(next.disabled).toBe(true);
  const name = screen.getByLabelText<HTMLInputElement>('Your name, as the report gives it');
  name.value = 'A. Sample';
  name.dispatchEvent(new Event('input', { bubbles: true }));
  screen.getByRole('button', { name: 'Left' }).click();
  await waitFor(() => expect(document.documentElement.dataset.hand).toBe('left'));
  screen.getByRole('button', { name: 'Begin' }).click();
  await screen.findByText('The book is empty.');
  expect(door.of('save_settings')[0]?.settings).toMatchObject({
    technician: 'A. Sample',
    hand: 'left',
  });
});

test('the app opens where the technician stood, and back leads to the list', async () => {
  openDoor({
    start: () => ({ reply: 'start', start: start({ job: JOB, place: 'step/c' }) }),
    job: () => ({
      reply: 'job',
      job: job([stage(1, [step('a')]), stage(2, [step('c', [], { standing: 'later' })])]),
    }),
  });
  history.replaceState(null, '', '#/');
  render(App);
  await screen.findByRole('heading', { name: 'Step c' });
  expect(location.hash).toBe(`#/job/${JOB}/step/c`);
});

test('when the store does not answer, that is said, and there is a way to try again', async () => {
  const door = openDoor({
    start: () => {
      throw { kind: 'storage', what: 'The book can’t be opened.', do_next: 'Restart the phone.' };
    },
  });
  render(App);
  await screen.findByText('Restart the phone.');
  door.answers.start = () => ({ reply: 'start', start: start() });
  door.answers.jobs = jobs(0);
  (await screen.findByRole('button', { name: 'Try again' })).click();
  await screen.findByText('The book is empty.');
});

test('the procedures and the table of codes are read beside one another', async () => {
  openDoor({
    start: () => ({ reply: 'start', start: start() }),
    procedures: () => ({
      reply: 'procedures',
      procedures: [
        { id: 'sample', version: 2, title: 'Sample procedure', built_in: true, steps: 31 },
      ],
    }),
    code_table: () => ({
      reply: 'code_table',
      table: { version: '1', rows: 38, shop_rows: 0, shop: '' },
    }),
  });
  swap('/procedures');
  render(App);
  await screen.findByText('Sample procedure');
  await screen.findByText(/38 rows/);
});

test('what a screen reads is not refused while something else is under way', async () => {
  const opened = job([stage(1, [step('a')])]);
  const door = openDoor({ job: () => ({ reply: 'job', job: opened }) });
  session.busy = 'Syncing';
  // A press meanwhile is: it would do its thing twice.
  expect(await attempt('', () => Promise.resolve('done'))).toBeNull();
  await loadJob(JOB);
  expect(door.of('job')).toEqual([{ do: 'job', job: JOB }]);
  expect(session.job).toEqual(opened);
});
