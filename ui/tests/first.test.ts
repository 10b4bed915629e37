// What nobody confirmed is said first, and a reason leads to every photo that shows its pieces.
import { render, screen } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import type { WearView } from '../src/door/types/WearView';
import PanGauge from '../src/plots/PanGauge.svelte';
import Reasons from '../src/plots/Reasons.svelte';
import Advice from '../src/wants/Advice.svelte';
import { job, stage, step } from './support/sample';

const FIRST = 'Not yet confirmed: 1 photo was counted by the machine alone.';
const wear: WearView = {
  score: 12,
  lo: 8,
  hi: 20,
  hazard: 0.13,
  not_confirmed: FIRST,
  calibrated: null,
  without_doubtful: null,
  band: 'clean',
  numeral: 1,
  band_name: 'Clean',
  bands_also: [],
  bands: [0, 10, 30, 55, 85].map((from, at) => ({ numeral: at + 1, from, allowed: at === 0 })),
  band_words: 'Clean',
  reasons: [],
  advice: 'carry_on',
  advice_words: 'Finish the work.',
  advice_reasons: ['The pan is clean.'],
  next_tests: [],
  findings: [],
  missing: [],
  trend: null,
  table: 'hazard-3',
};

test.each([
  ['score', PanGauge],
  ['advice', Advice],
])('the first line of the %s is that nobody confirmed the count', (_, part) => {
  const { container } = render(part, { props: { wear } });
  expect(container.textContent.trim().startsWith(FIRST)).toBe(true);
});

test('a reason leads to each photo that shows its pieces', () => {
  const words = '3 flakes of steel';
  const reason = { words, share: 1, photo: 'first' };
  const pieces = [
    { photo: 'first', pieces: [0, 2] },
    { photo: 'second', pieces: [1] },
  ];
  const here = job([stage(1, [step('a')])]);
  render(Reasons, { props: { job: here, reasons: [{ ...reason, pieces }] } });
  const keys = screen.getAllByRole('button', { name: new RegExp(words) });
  expect(keys.map((key) => key.textContent)).toEqual(['Photo 1', 'Photo 2']);
  keys[1]?.click();
  expect(location.href).toContain('/photo/second/1');
});
