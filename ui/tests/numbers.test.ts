import { render, screen, waitFor } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import NumberField from '../src/paper/NumberField.svelte';
import { numberOf, turn } from '../src/paper/turn';
import { fromMinor, homeCurrency, toMinor } from '../src/wants/money';
import { ruler } from '../src/plots/interval';
import { session } from '../src/state/session.svelte';
import { homeUnits, symbolOf, typedOf, withUnit } from '../src/state/units';
import { start } from './support/sample';

test.each([
  ['', 0.1, 0, 20, '0.0'],
  ['4.2', 0.1, 0, 20, '4.3'],
  ['4,2', -0.1, 0, 20, '4.1'],
  ['20', 0.1, 0, 20, '20.0'],
  ['-40', -1, -40, 160, '-40'],
  ['', 1000, 0, 100000, '0'],
  ['9', 1000, 0, 100000, '1009'],
])('from %j a turn of %d within %d to %d gives %s', (typed, step, min, max, expected) => {
  expect(turn(typed, step, min, max)).toBe(expected);
});

test('what is no number is none', () => {
  expect(numberOf('')).toBeNaN();
  expect(numberOf('OL')).toBeNaN();
  expect(numberOf('12,5')).toBe(12.5);
});

// ISO 4217: EUR has two places, JPY none, KWD three.
test.each([
  ['450', 'EUR', 45000, '450'],
  ['450.5', 'EUR', 45050, '450.50'],
  ['45000', 'JPY', 45000, '45000'],
  ['12.345', 'KWD', 12345, '12.345'],
])('%s %s', (typed, currency, minor, back) => {
  const money = toMinor(typed, currency);
  expect(money).toEqual({ minor, currency });
  if (money) expect(fromMinor(money)).toBe(back);
});

test('no limit is no amount; the region gives the first guess', () => {
  expect(toMinor(' ', 'EUR')).toBeNull();
  expect(homeCurrency('sv-SE')).toBe('SEK');
  expect(homeCurrency('de')).toBe('EUR');
});

test('the ruler puts limits and reading in order, and open sides stay open', () => {
  const line = ruler(37.8, 0.5, 21, 25);
  expect(line).not.toBeNull();
  if (!line) return;
  expect(line.low).toBeLessThan(line.high ?? 0);
  expect(line.high).toBeLessThan(line.from);
  expect(line.to).toBeCloseTo(0.92, 5);
  expect(ruler(5, 0.1, null, 10)?.low).toBeNull();
  expect(ruler(5, 0, 5, 5)).not.toBeNull();
  expect(ruler(Number.NaN, 1, 0, 1)).toBeNull();
});

test('the keys write what an ohmmeter shows', async () => {
  render(NumberField, { props: { label: 'Ohms', value: '', ohm: true, open: true } });
  const press = (name: string) => screen.getByRole('button', { name }).click();
  const field = screen.getByLabelText<HTMLInputElement>('Ohms');
  const shows = async (text: string) => {
    await Promise.resolve();
    expect(field.value).toBe(text);
  };
  for (const key of ['0', 'point', '4', 'point', 'kilo']) press(key);
  await shows('0.4k');
  press('5');
  await shows('0.4k');
  press('point');
  await shows('0.4k');
  press('mega');
  await shows('0.4M');
  press('OL');
  await shows('OL');
  press('7');
  await shows('7');
  press('erase');
  await shows('');
  for (const key of ['4', 'kilo', '7', 'mega', 'point']) press(key);
  await shows('4k7');
  for (let n = 0; n < 3; n += 1) press('erase');
  // Past what the meter can show.
  for (const key of ['4', '0', 'mega', 'more than']) press(key);
  await shows('>40M');
  press('more than');
  await shows('40M');
  press('OL');
  press('more than');
  await shows('>');
});

test('a number in words and signs comes from the phone’s own keyboard', async () => {
  render(NumberField, { props: { label: 'Odometer', value: '', thousands: true, open: true } });
  const field = screen.getByLabelText<HTMLInputElement>('Odometer');
  expect(field.inputMode).toBe('none');
  screen.getByRole('button', { name: 'The phone’s own keyboard' }).click();
  await waitFor(() => expect(field.inputMode).toBe('text'));
  await waitFor(() => expect(document.activeElement).toBe(field));
  expect(withUnit('84,200 mi', 'km')).toBe('84,200 mi');
  expect(withUnit('4½', 'l')).toBe('4½ l');
});

test('a number of the core stands as it would be typed here, in the units that were chosen', () => {
  session.start = start();
  expect(typedOf(80, 'temperature')).toBe('80');
  expect(typedOf(null, 'temperature')).toBe('');
  const { settings } = session.start;
  session.start = start({
    settings: { ...settings, units: { ...settings.units, temperature: 'fahrenheit' } },
  });
  expect(typedOf(80, 'temperature')).toBe('176');
  expect(symbolOf('temperature')).toBe('°F');
  expect(homeUnits(start(), 'en-GB')).toMatchObject({ distance: 'mile', temperature: 'celsius' });
  expect(homeUnits(start(), 'de-DE').distance).toBe('kilometre');
});
