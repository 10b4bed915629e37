import { afterAll, beforeAll, expect, test, vi } from 'vitest';
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
