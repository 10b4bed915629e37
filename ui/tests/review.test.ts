import { render, screen, waitFor } from '@testing-library/svelte';
import { beforeEach, expect, test } from 'vitest';
import { classRows, rowOf } from '../src/debris/classes';
import { pieceAt } from '../src/debris/hit';
import type { Command } from '../src/door/types/Command';
import PhotoReview from '../src/screens/job/PhotoReview.svelte';
import { closeUp, outside } from '../src/debris/closeup';
import { shown } from '../src/screens/job/review/filter';
import Help from '../src/screens/job/review/Help.svelte';
import {
  type Help as HelpOf,
  helps,
  hintsOf,
  noHelp,
  tapped,
} from '../src/screens/job/review/help';
import { groups, lay } from '../src/screens/job/review/order';
import { fitted, holding, under } from '../src/screens/job/review/view';
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

test('150 pieces: each lies in the tray, is confirmed by a tap, changed by one more, and the rest confirmed', async () => {
  const pieces = Array.from({ length: 150 }, (_, i) => piece(i, (i % 15) * 60 + 40, i * 5));
  const here = job([stage(1, [step('a')])]);
  const door = openDoor({
    photo: () => ({ reply: 'photo', photo: census(pieces), job: here }),
    write: () => ({ reply: 'written', entry: 'e', job: here }),
  });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  const tray = await screen.findByTestId('tray');
  const lying = tray.querySelectorAll('button');
  expect(lying).toHaveLength(150);
  expect(thumb.action?.label).toBe('Confirm 150 pieces');

  lying[0]?.click();
  await screen.findByText('steel flake number 0');
  await waitFor(() => expect(door.of('photo')).toHaveLength(2));
  await waitFor(() => expect(session.reading).toBe(0));
  const said = (n: number): unknown => door.of('write')[n];
  expect(said(0)).toMatchObject({
    fact: {
      fact: 'particle_corrected',
      at_px: pieces[0]?.at_px,
      to: { is: 'debris', class: 'steel_flake' },
    },
  } satisfies Partial<Record<keyof Command | 'fact', unknown>>);
  screen.getByRole('button', { name: 'Previous piece' }).click();
  await screen.findByText('steel flake number 149');
  screen.getByRole('button', { name: /friction material/ }).click();
  await waitFor(() => expect(door.of('write')).toHaveLength(2));
  expect(said(1)).toMatchObject({
    fact: {
      fact: 'particle_corrected',
      at_px: pieces[149]?.at_px,
      to: { is: 'debris', class: 'lining' },
    },
  } satisfies Partial<Record<keyof Command | 'fact', unknown>>);
  await waitFor(() => expect(door.of('photo')).toHaveLength(3));
  await waitFor(() => expect(session.busy).toBeNull());
  screen.getByRole('button', { name: 'Close the piece' }).click();
  (await screen.findByRole('button', { name: 'The photo' })).click();
  await screen.findByTestId('picture');
  expect(document.querySelectorAll('svg g')).toHaveLength(150);
  await thumb.action?.run();
  expect(door.of('write')[2]?.fact).toEqual({ fact: 'census_confirmed', photo: 'photo-entry' });
});

test('taps that come while one is written are written in their order', async () => {
  const pieces = [piece(0, 100, 100), piece(1, 200, 100), piece(2, 300, 100)];
  const here = job([stage(1, [step('a')])]);
  const door = openDoor({
    photo: () => ({ reply: 'photo', photo: census(pieces), job: here }),
    write: () => ({ reply: 'written', entry: 'e', job: here }),
  });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  const tray = await screen.findByTestId('tray');
  for (const one of tray.querySelectorAll('button')) one.click();
  await waitFor(() => expect(door.of('write')).toHaveLength(3));
  expect(door.of('write').map(({ fact }) => 'at_px' in fact && fact.at_px)).toEqual(
    pieces.map((one) => one.at_px),
  );
});

test('one key says that none of a few is debris, a line each, and confirms the count', async () => {
  const few = [piece(0, 100, 100), piece(1, 200, 100), piece(2, 300, 100)];
  const here = job([stage(1, [step('a')])]);
  const door = openDoor({
    photo: () => ({ reply: 'photo', photo: { ...census(few), none_at_once: true }, job: here }),
    write: () => ({ reply: 'written', entry: 'e', job: here }),
  });
  const { unmount } = render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  const none = await screen.findByRole('button', { name: 'Confirm: none of these 3 is debris' });
  none.click();
  await waitFor(() => expect(door.of('write')).toHaveLength(4));
  expect(door.of('write').map(({ fact }) => fact)).toEqual([
    ...few.map(({ at_px }) => ({
      fact: 'particle_corrected',
      photo: 'photo-entry',
      at_px,
      to: { is: 'not_debris' },
    })),
    { fact: 'census_confirmed', photo: 'photo-entry' },
  ]);
  unmount();
  // Where the core does not offer it, it is not there.
  door.answers.photo = () => ({ reply: 'photo', photo: census(few), job: here });
  render(PhotoReview, { props: { job: here, entry: 'photo-entry' } });
  await screen.findByTestId('tray');
  expect(screen.queryByRole('button', { name: /debris$/ })).toBeNull();
});

test('the tray lies as the core says, by heaps, and nothing moves when it is named', () => {
  const laid = (index: number, rank: number, place: 'grave' | 'doubtful' | 'sure' | null) => ({
    ...piece(index, index * 50, 0),
    rank,
    place,
  });
  const before = [laid(0, 2, 'sure'), laid(1, 0, 'grave'), laid(2, 1, 'doubtful')];
  const lying = lay(new Map(), before);
  const order = (pieces: typeof before) =>
    groups(lay(lying, pieces), pieces).map(({ heap, pieces }) => [
      heap,
      pieces.map((one) => one.index),
    ]);
  const asLaid = [
    ['grave', [1]],
    ['doubtful', [2]],
    ['sure', [0]],
  ];
  expect(order(before)).toEqual(asLaid);
  expect(order([laid(0, 0, 'grave'), laid(1, 2, null), laid(2, 1, 'sure')])).toEqual(asLaid);
});

test('a close-up shows a piece at least 48 px long, at one of few scales, with a round bar', () => {
  const sides = [6, 9, 14, 30, 80, 400];
  const scales = sides.map((side) => {
    const one = { ...piece(0, 500, 400, side), feret_max_mm: (side * Math.SQRT2) / 20 };
    const view = closeUp(one, 96);
    expect(side * view.zoom).toBeGreaterThanOrEqual(48);
    expect(side * view.zoom).toBeLessThan(96);
    expect(view.bar?.px).toBeLessThanOrEqual(96 * 0.55);
    // The bar is as long as it says: 20 px of the picture are 1 mm.
    expect(view.bar!.px / view.zoom / 20).toBeCloseTo(view.bar!.mm, 6);
    return Math.log(view.zoom * 20) / Math.log(1.75);
  });
  for (const step of scales) expect(step).toBeCloseTo(Math.round(step), 6);
  expect(closeUp({ ...piece(0, 9, 9), feret_max_mm: 0 }, 96).bar).toBeNull();
});

test('an outline is drawn outside its piece, whichever way round it runs', () => {
  const square = piece(0, 100, 100, 40).outline_px;
  for (const outline of [square, [...square].reverse()]) {
    for (const [x, y] of outside(outline, 4)) {
      const out = Math.max(Math.abs(x - 100), Math.abs(y - 100)) - 20;
      expect(out).toBeGreaterThan(1);
      expect(out).toBeLessThan(5);
    }
  }
});

test('the photo is cropped to its pieces, and turned where they are seen larger', () => {
  const whole: [number, number] = [4000, 3000];
  const phone: [number, number] = [412, 600];
  const row = [piece(0, 400, 1500), piece(1, 3600, 1500)].flatMap((one) => one.outline_px);
  const turned = fitted(whole, row, phone);
  expect(turned.turned).toBe(true);
  const upright = fitted(whole, piece(0, 3000, 700, 100).outline_px, phone);
  expect([upright.turned, upright.at]).toEqual([false, [3000, 700]]);
  expect(upright.zoom).toBeGreaterThan(412 / 4000);
  // A point of the frame and the point of the picture under it belong together, turned or not.
  for (const view of [turned, upright]) {
    const moved = holding(view, [1234, 567], [-80, 120]);
    expect(under(moved, [-80, 120])[0]).toBeCloseTo(1234, 6);
    expect(under(moved, [-80, 120])[1]).toBeCloseTo(567, 6);
  }
});

/** A finger on the picture and off it again. */
function press(picture: HTMLElement, clientX: number, clientY: number): void {
  for (const type of ['pointerdown', 'pointerup'])
    picture.dispatchEvent(new Event(type, { bubbles: true }));
  picture.dispatchEvent(new MouseEvent('click', { clientX, clientY, bubbles: true }));
}

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
  (await screen.findByRole('button', { name: 'The photo' })).click();
  const picture = await screen.findByTestId('picture');
  await calm();
  // A tap on the picture: the keys with the classes come.
  picture.getBoundingClientRect = () => new DOMRect(0, 0, 1000, 800);
  press(picture, 100, 100);
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
  key('Close the piece').click();
  await waitFor(() => expect(resting()).toBe('all'));
  await calm();
  for (const tab of ['More', 'Kinds', 'More', 'Set the scale']) {
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
  (await screen.findByRole('button', { name: 'The photo' })).click();
  const picture = await screen.findByTestId('picture');
  picture.getBoundingClientRect = () => new DOMRect(0, 0, 1000, 800);
  const tap = (x: number, y: number): void => {
    press(picture, x, y);
  };
  tap(100, 100);
  (await screen.findByRole('button', { name: 'All kinds' })).click();
  await screen.findByText('0.70 × 0.50 mm, 0.30 mm², length class J');
  const written = async (n: number): Promise<unknown> => {
    await waitFor(() => expect(door.of('write')).toHaveLength(n));
    await waitFor(() => expect(session.busy).toBeNull());
    return (door.of('write')[n - 1]?.fact as { to: unknown }).to;
  };
  screen.getByRole('button', { name: 'Split' }).click();
  expect(await written(1)).toEqual({ is: 'parted', along_px: waist });

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
  (await screen.findByRole('button', { name: 'More' })).click();
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
  (await screen.findByRole('button', { name: 'More' })).click();
  (await screen.findByRole('button', { name: 'Kinds' })).click();
  const key = await screen.findByRole('button', { name: /lining/ });
  const bars = [...key.querySelectorAll('i')].map((bar) => bar.style.height);
  expect(bars).toEqual(['100%', '33.33333333333333%']);
  // What the photo can't show all of is marked, and the mark is explained.
  expect(key.textContent).toMatch(/H\*\s*J/);
  expect(await screen.findByText(/^\* Pieces so small/)).toBeTruthy();
});
