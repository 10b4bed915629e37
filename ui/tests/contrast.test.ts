/** Text AAA (7:1), controls AA (3:1), by the formula of WCAG 2.2, "contrast ratio" and "relative luminance". */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

const css = readFileSync('src/app.css', 'utf8');

function tokens(selector: string): Record<string, string> {
  const from = css.indexOf(`${selector} {`);
  const block = css.slice(from, css.indexOf('}', from));
  return Object.fromEntries(
    [...block.matchAll(/--([a-z-]+): (#[0-9a-f]{6});/g)].map((m) => [m[1], m[2]]),
  );
}

function luminance(hex: string): number {
  const channel = (at: number): number => {
    const c = parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

function contrast(a: string | undefined, b: string | undefined): number {
  if (!a || !b) throw new Error('a colour is missing');
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

test('the formula agrees with the published figures', () => {
  expect(contrast('#ffffff', '#000000')).toBeCloseTo(21, 4);
  expect(contrast('#ffffff', '#777777')).toBeCloseTo(4.4781, 3);
  expect(contrast('#ffffff', '#595959')).toBeCloseTo(7.0047, 3);
});

describe.each([
  ['bay', tokens(':root')],
  ['desk', tokens(":root[data-paper='desk']")],
])('%s', (_, paper) => {
  test.each([
    ['ink', 'ground'],
    ['ink', 'wash'],
    ['quiet', 'ground'],
    ['quiet', 'wash'],
    ['machine', 'ground'],
    ['machine', 'wash'],
    ['on-signal', 'signal'],
  ])('text %s on %s is at least 7:1', (text, ground) => {
    expect(contrast(paper[text], paper[ground])).toBeGreaterThanOrEqual(7);
  });

  test.each([
    ['rule', 'ground'],
    ['signal-edge', 'ground'],
    ['machine', 'ground'],
  ])('control %s on %s is at least 3:1', (edge, ground) => {
    expect(contrast(paper[edge], paper[ground])).toBeGreaterThanOrEqual(3);
  });
});
