import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { attempt, read } from '../src/state/session.svelte';
import { CALM_MS, changed, taken, tooSoon } from '../src/state/settle.svelte';

beforeAll(() => vi.useFakeTimers());
afterAll(() => vi.useRealTimers());

const key = (inBar: boolean) => {
  const button = document.createElement('button');
  button.className = inBar ? 'next' : 'key';
  return button;
};
const resting = () => document.documentElement.dataset.settling;

test('after a change nothing takes a press for 600 ms', () => {
  vi.advanceTimersByTime(10 * CALM_MS);
  expect(tooSoon(key(false))).toBe(false);
  changed();
  expect([tooSoon(key(true)), tooSoon(key(false)), resting()]).toEqual([true, true, 'all']);
  vi.advanceTimersByTime(CALM_MS - 1);
  expect(tooSoon(key(false))).toBe(true);
  vi.advanceTimersByTime(2);
  expect([tooSoon(key(true)), tooSoon(key(false)), resting()]).toEqual([false, false, undefined]);
});

test('after its own press the wide key rests alone, so that number keys can be typed on', () => {
  vi.advanceTimersByTime(10 * CALM_MS);
  changed('next');
  expect([tooSoon(key(true)), tooSoon(key(false)), resting()]).toEqual([true, false, 'next']);
  vi.advanceTimersByTime(CALM_MS + 1);
  expect(tooSoon(key(true))).toBe(false);
});

test('a digit pressed right after a change is taken, unless it is a second tap on the same spot', () => {
  vi.advanceTimersByTime(10 * CALM_MS);
  const pad = document.createElement('div');
  pad.dataset.digits = '';
  const digit = pad.appendChild(key(false));
  taken({ x: 300, y: 880 });
  changed();
  expect(tooSoon(digit, { x: 100, y: 700 })).toBe(false);
  expect(tooSoon(digit, { x: 310, y: 870 })).toBe(true);
  expect(tooSoon(key(false), { x: 100, y: 700 })).toBe(true);
});

test('the same digit twice right after a change is two digits: the first one made no change', () => {
  vi.advanceTimersByTime(10 * CALM_MS);
  const pad = document.createElement('div');
  pad.dataset.digits = '';
  const five = pad.appendChild(key(false));
  const at = { x: 100, y: 700 };
  taken({ x: 300, y: 880 }, key(true));
  changed();
  expect(tooSoon(five, at)).toBe(false);
  taken(at, five);
  expect(tooSoon(five, at)).toBe(false);
  // What made the change is still refused where it was pressed.
  expect(tooSoon(five, { x: 310, y: 870 })).toBe(true);
});

test('what comes late rests as long as what was pressed for', async () => {
  for (const come of [() => read(async () => 1), () => attempt('', async () => 1)]) {
    vi.advanceTimersByTime(10 * CALM_MS);
    expect(resting()).toBeUndefined();
    await come();
    expect(resting()).toBe('all');
  }
  vi.advanceTimersByTime(10 * CALM_MS);
  await read(async () => 1, true);
  expect(resting()).toBeUndefined();
});
