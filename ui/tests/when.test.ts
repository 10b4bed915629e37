// A line's time stands as it was written, with its zone where the viewer's clock is another.
import { afterEach, expect, test, vi } from 'vitest';
import { shortWhen, timeOf } from '../src/paper/when';

/** A viewer whose clock is so many minutes east of world time. */
function viewer(east: number): void {
  vi.spyOn(Date.prototype, 'getTimezoneOffset').mockReturnValue(-east);
}

afterEach(() => vi.restoreAllMocks());

test('the time is that of the clock that stood there', () => {
  const line = '2026-11-25T09:41:07+01:00';
  viewer(60);
  expect(timeOf(line)).toBe('09:41');
  viewer(0);
  expect(timeOf(line)).toBe('09:41 (UTC+1)');
  expect(timeOf('2026-11-25T09:41:07Z')).toBe('09:41');
  viewer(-300);
  expect(timeOf('2026-11-25T09:41:07-03:30')).toBe('09:41 (UTC-3:30)');
  expect(timeOf('2026-11-25T09:41:07Z')).toBe('09:41 (UTC)');
  expect(timeOf('no time')).toBe('');
});

test('the day is that of the same clock', () => {
  viewer(0);
  // An hour past midnight there, still the day before here.
  const line = '2026-11-26T00:30:00+13:00';
  expect(shortWhen(line, new Date('2026-11-26T12:00:00Z'))).toBe('00:30 (UTC+13)');
  expect(shortWhen(line, new Date('2026-12-26T12:00:00Z'))).toMatch(/26/);
  expect(shortWhen(line, new Date('2027-12-26T12:00:00Z'))).toMatch(/2026/);
});
