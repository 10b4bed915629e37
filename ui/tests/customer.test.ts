/** A link that was just made, and an answer that came meanwhile, are seen. */
import { render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test } from 'vitest';
import JobScreen from '../src/screens/JobScreen.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { openDoor } from './support/door';
import { job, JOB, stage, start, step } from './support/sample';

const link = (entry: string) => ({
  entry,
  made: '2026-05-01T08:00:00+02:00',
  expires: '2026-06-01',
});
const answer = {
  item: 'Open the gearbox',
  words: 'Yes, go ahead',
  by: 'C. Sample',
  at: '2026-05-01T09:00:00+02:00',
};
const with_ = (over: object) => job([stage(1, [step('a')])], { lines: 5, ...over });
const closers = () => screen.queryAllByRole('button', { name: 'Close' });
const resting = () => document.documentElement.dataset.settling;

beforeEach(() => {
  session.start = start();
  session.trouble = null;
});

test('a link stands in the list as soon as it is made', async () => {
  session.job = with_({});
  openDoor({
    job: () => ({ reply: 'job', job: with_({}) }),
    share_report: () => ({
      reply: 'shared',
      link: 'https://hub.invalid/r/x',
      qr_svg: '<svg></svg>',
      code: null,
      job: with_({ lines: 6, links: [link('one')] }),
    }),
  });
  swap(`/job/${JOB}/customer`);
  render(JobScreen, { props: { id: JOB } });
  (await screen.findByTestId('next')).click();
  await waitFor(() => expect(closers()).toHaveLength(1));
});

test('an answer that came since the job was opened is shown where it is asked for', async () => {
  session.job = with_({ links: [link('one')] });
  const door = openDoor({
    job: () => ({
      reply: 'job',
      job: with_({ lines: 6, links: [link('one')], answers: [answer] }),
    }),
  });
  swap(`/job/${JOB}/customer`);
  render(JobScreen, { props: { id: JOB } });
  await screen.findByText('Yes, go ahead');
  expect(door.of('job')).toHaveLength(1);
});

test('what another line answered is newer than what was asked for before it', async () => {
  session.job = with_({ lines: 9, links: [link('one')] });
  openDoor({ job: () => ({ reply: 'job', job: with_({ lines: 8, answers: [answer] }) }) });
  swap(`/job/${JOB}/customer`);
  render(JobScreen, { props: { id: JOB } });
  await new Promise((later) => setTimeout(later, 50));
  expect(screen.queryByText('Yes, go ahead')).toBeNull();
});

test('after a link is closed the one that moved into its place takes no press yet', async () => {
  const two = with_({ links: [link('one'), link('two')] });
  session.job = two;
  openDoor({
    job: () => ({ reply: 'job', job: two }),
    retract: () => ({ reply: 'job', job: with_({ lines: 6, links: [link('two')] }) }),
  });
  swap(`/job/${JOB}/customer`);
  render(JobScreen, { props: { id: JOB } });
  await waitFor(() => expect(closers()).toHaveLength(2));
  await waitFor(() => expect(resting()).toBeUndefined(), { timeout: 2000 });
  closers()[0]?.click();
  await waitFor(() => expect(closers()).toHaveLength(1));
  expect(resting()).toBe('all');
});
