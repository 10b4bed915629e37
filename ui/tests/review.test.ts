import { render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test } from 'vitest';
import { classRows, rowOf } from '../src/debris/classes';
import { pieceAt } from '../src/debris/hit';
import type { Command } from '../src/door/types/Command';
import PhotoReview from '../src/screens/job/PhotoReview.svelte';
import { shown } from '../src/screens/job/review/filter';
import Help from '../src/screens/job/review/Help.svelte';
import {
  type Help as HelpOf,
  helps,
  hintsOf,
  noHelp,
  tapped,
} from '../src/screens/job/review/help';
import { session } from '../src/state/session.svelte';
import { thumb } from '../src/state/thumb.svelte';
import { openDoor } from './support/door';
import { census, job, piece, stage, start, step } from './support/sample';

test('no two classes look alike', () => {
  const rows = classRows();
  expect(rows).toHaveLength(10);
  expect(new Set(rows.map((row) => row.letter)).size).toBe(10);
  const lines = rows.map(({ dashes, double }) => JSON.stringify([dashes, double]));
  expect(new Set(lines).size).toBe(10);
  expect(rowOf('lint').letter).toBe('T');
});

test('a finger finds the piece it is on, the nearest within reach, or none', () => {
  const pieces = [piece(0, 100, 100), piece(1, 120, 100), piece(2, 500, 500, 100)];
  expect(pieceAt([104, 100], pieces, 30)?.index).toBe(0);
  expect(pieceAt([113, 100], pieces, 30)?.index).toBe(1);
  expect(pieceAt([470, 480], pieces, 1)?.index).toBe(2);
  expect(pieceAt([300, 300], pieces, 30)).toBeNull();
});

test('filters by class and size', () => {
  const pieces = [piece(0, 0, 0), { ...piece(1, 9, 9), class: 'lint' as const, iso16232: null }];
  expect(shown(pieces, { classes: [], sizes: [] })).toHaveLength(2);
  expect(shown(pieces, { classes: ['lint'], sizes: [] })).toHaveLength(1);
  expect(shown(pieces, { classes: ['lint'], sizes: ['J'] })).toHaveLength(0);
});

test('two taps and a length make a scale; one tap does not', () => {
  let help = tapped(noHelp, [10, 10]);
  expect(helps(help)).toBe(false);
  help = tapped(help, [110, 10]);
  expect(helps(help)).toBe(false);
  help = { ...help, mm: '10' };
  expect(helps(help)).toBe(true);
  expect(hintsOf(help)).toMatchObject({
    taps: [
      [10, 10],
      [110, 10],
    ],
    tap_mm: 10,
    taps_on: 'ground',
  });
  expect(tapped(help, [5, 5]).taps).toEqual([[5, 5]]);
  const magnet = tapped({ ...noHelp, mode: 'subject' }, [7, 8]);
  expect(hintsOf(magnet)).toMatchObject({ subject_at: [7, 8], taps: null, taps_on: null });
});

test('the length between the taps takes decimals', async () => {
  let help: HelpOf = {
    ...noHelp,
    taps: [
      [10, 10],
      [110, 10],
    ],
  };
  const view = render(Help, { props: { subject: 'pan', help, onhelp: (to) => (help = to) } });
  screen.getByRole('textbox', { name: 'Length between the taps' }).focus();
  for (const name of ['1', '2', 'point', '5']) {
    (await screen.findByRole('button', { name })).click();
    await view.rerender({ help });
  }
  expect(help.mm).toBe('12.5');
  expect([helps(help), hintsOf(help).tap_mm]).toEqual([true, 12.5]);
  // The German point.
  expect(hintsOf({ ...help, mm: '12,5' }).tap_mm).toBe(12.5);
});

beforeEach(() => {
  session.start = start();
  session.job = job([stage(1, [step('a')])]);
});

test('150 pieces: each is reached by keys, corrected in one press, and stood by', async () => {
  const pieces = Array.from({ length: 150 }, (_, i) => piece(i, (i % 15) * 60 + 40, i * 5));
  const here = job([stage(1, [step('a')])]);
  const door = openDoor({
    photo: () => ({ reply: 'photo', photo: census(pieces), job: here }),
    write: () => ({ reply: 'written', entry: 'e', job: here }),
  });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  const next = await screen.findByRole('button', { name: 'Piece' });
  expect(document.querySelectorAll('svg g')).toHaveLength(150);
  expect(thumb.action?.label).toBe('Confirm 150 pieces');

  next.click();
  await screen.findByText('steel flake number 0');
  screen.getByRole('button', { name: 'Previous piece' }).click();
  await screen.findByText('steel flake number 149');
  screen.getByRole('button', { name: /friction material/ }).click();
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]).toMatchObject({
    fact: {
      fact: 'particle_corrected',
      at_px: pieces[149]?.at_px,
      to: { is: 'debris', class: 'lining' },
    },
  } satisfies Partial<Record<keyof Command | 'fact', unknown>>);
  await waitFor(() => expect(door.of('photo')).toHaveLength(2));
  await waitFor(() => expect(session.busy).toBeNull());
  await thumb.action?.run();
  expect(door.of('write')[1]?.fact).toEqual({ fact: 'census_confirmed', photo: 'photo-entry' });
});

const resting = () => document.documentElement.dataset.settling;
const calm = () => waitFor(() => expect(resting()).toBeUndefined(), { timeout: 2000 });

test('a panel that grows under the finger takes no press yet, nor does an outline that is cut', async () => {
  const waist: [[number, number], [number, number]] = [
    [100, 90],
    [100, 110],
  ];
  const pieces = [{ ...piece(0, 100, 100, 60), waist_px: waist }, piece(1, 300, 100, 60)];
  const here = job([stage(1, [step('a')])]);
  const door = openDoor({
    photo: () => ({ reply: 'photo', photo: census(pieces), job: here }),
    write: () => ({ reply: 'written', entry: 'e', job: here }),
  });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  const key = (name: string | RegExp) => screen.getByRole('button', { name });
  await screen.findByRole('button', { name: 'Piece' });
  await calm();
  // A tap on the picture: the keys with the classes come.
  const picture = screen.getByTestId('picture');
  picture.getBoundingClientRect = () => new DOMRect(0, 0, 1000, 800);
  picture.dispatchEvent(new MouseEvent('click', { clientX: 100, clientY: 100, bubbles: true }));
  await waitFor(() => expect(resting()).toBe('all'));
  await calm();
  // To the next one, and a kind: nothing moves.
  key('Next piece').click();
  await screen.findByText('steel flake number 1');
  key(/friction material/).click();
  await waitFor(() => expect(door.of('photo')).toHaveLength(2));
  await waitFor(() => expect(session.reading).toBe(0));
  expect(resting()).toBeUndefined();
  // Two out of one: the pieces are others now, so the same key is not pressed again unseen.
  key('Next piece').click();
  const split = await screen.findByRole<HTMLButtonElement>('button', { name: 'Split' });
  let come = () => {};
  const slow = new Promise<void>((resolve) => (come = resolve));
  door.answers.photo = () =>
    slow.then(() => ({ reply: 'photo', photo: census(pieces), job: here }));
  split.click();
  await waitFor(() => expect(resting()).toBe('all'));
  await waitFor(() => expect(door.of('photo')).toHaveLength(3));
  expect(split.disabled).toBe(true);
  come();
  await waitFor(() => expect(split.disabled).toBe(false));
  expect(resting()).toBe('all');
  await calm();
  for (const tab of ['Kinds', 'Set the scale']) {
    key(tab).click();
    await waitFor(() => expect(resting()).toBe('all'));
    await calm();
  }
});

test('a photo that could not be opened is opened by the second press, and no trouble stays', async () => {
  const here = job([stage(1, [step('a')])]);
  let tries = 0;
  openDoor({
    photo: () => {
      tries += 1;
      if (tries === 1)
        throw { kind: 'storage', what: 'It can not be read.', do_next: 'Try again.' };
      return { reply: 'photo', photo: census([piece(0, 40, 5)]), job: here };
    },
  });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  await waitFor(() => expect(session.trouble?.problem.what).toBe('It can not be read.'));
  await thumb.action?.run();
  expect(tries).toBe(2);
  expect(session.trouble).toBeNull();
});

test('an outline is cut at its waist by one key, along a line by two taps, and joined by one', async () => {
  const waist: [[number, number], [number, number]] = [
    [100, 90],
    [100, 110],
  ];
  const pieces = [{ ...piece(0, 100, 100, 60), waist_px: waist }, piece(1, 300, 100, 60)];
  const here = job([stage(1, [step('a')])]);
  const door = openDoor({
    photo: () => ({ reply: 'photo', photo: census(pieces), job: here }),
    write: () => ({ reply: 'written', entry: 'e', job: here }),
  });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  (await screen.findByRole('button', { name: 'Piece' })).click();
  await screen.findByText('0.70 × 0.50 mm, 0.30 mm², length class J');
  const written = async (n: number): Promise<unknown> => {
    await waitFor(() => expect(door.of('write')).toHaveLength(n));
    await waitFor(() => expect(session.busy).toBeNull());
    return (door.of('write')[n - 1]?.fact as { to: unknown }).to;
  };
  screen.getByRole('button', { name: 'Split' }).click();
  expect(await written(1)).toEqual({ is: 'parted', along_px: waist });

  const picture = screen.getByTestId('picture');
  picture.getBoundingClientRect = () => new DOMRect(0, 0, 1000, 800);
  const tap = (x: number, y: number): void => {
    picture.dispatchEvent(new MouseEvent('click', { clientX: x, clientY: y, bubbles: true }));
  };
  (await screen.findByRole('button', { name: 'Cut' })).click();
  await screen.findByText('Tap on one side of the piece, then on the other side of it.');
  tap(100, 60);
  tap(100, 140);
  expect(await written(2)).toEqual({
    is: 'parted',
    along_px: [
      [100, 60],
      [100, 140],
    ],
  });

  (await screen.findByRole('button', { name: 'Join' })).click();
  await screen.findByText('Tap the other piece.');
  tap(310, 100);
  expect(await written(3)).toEqual({ is: 'joined', with_px: [300, 100] });
});

test('a photo is said to show an earlier patch by one key', async () => {
  const here = job([stage(1, [step('a')])]);
  const view = {
    ...census([piece(0, 100, 100)]),
    patch_words: ['2 photos of this patch together'],
    links: [
      { to: 'first', link: 'apart' as const, on: true, label: 'Same place as at 09:41' },
      {
        to: 'first',
        link: 'after_magnet' as const,
        on: false,
        label: 'After the magnet, place of 09:41',
      },
    ],
  };
  const door = openDoor({
    photo: () => ({ reply: 'photo', photo: view, job: here }),
    write: () => ({ reply: 'written', entry: 'e', job: here }),
  });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  (await screen.findByRole('button', { name: 'Same place' })).click();
  await screen.findByText('2 photos of this patch together');
  const same = screen.getByRole('button', { name: /Same place as at 09:41/ });
  expect(same.getAttribute('aria-pressed')).toBe('true');
  screen.getByRole('button', { name: /After the magnet/ }).click();
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toEqual({
    fact: 'photo_linked',
    photo: 'photo-entry',
    to: 'first',
    link: 'after_magnet',
  });
});

test('each kind has a histogram of its own sizes', async () => {
  const here = job([stage(1, [step('a')])]);
  const of = (n: number) => ({ class: 'lining' as const, label: 'lining', n, lo: 0, hi: 9 });
  const view = {
    ...census([piece(0, 100, 100)]),
    counts: [of(4)],
    histogram: [
      { size: 'H' as const, label: '0.2 to 0.4 mm', by_class: [of(3)], n: 5, below_seen: true },
      { size: 'J' as const, label: '0.6 to 1 mm', by_class: [of(1)], n: 1, below_seen: false },
    ],
  };
  openDoor({ photo: () => ({ reply: 'photo', photo: view, job: here }) });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  (await screen.findByRole('button', { name: 'Kinds' })).click();
  const key = await screen.findByRole('button', { name: /lining/ });
  const bars = [...key.querySelectorAll('i')].map((bar) => bar.style.height);
  expect(bars).toEqual(['100%', '33.33333333333333%']);
  // What the photo can't show all of is marked, and the mark is explained.
  expect(key.textContent).toMatch(/H\*\s*J/);
  expect(await screen.findByText(/^\* Pieces so small/)).toBeTruthy();
});
