import { render, screen } from '@testing-library/svelte';
import { tick } from 'svelte';
import { expect, test } from 'vitest';
import CrossOrder from '../src/plots/CrossOrder.svelte';
import TrendPlot from '../src/plots/TrendPlot.svelte';
import { roundUp, trendScale } from '../src/plots/trend';
import Codes from '../src/wants/Codes.svelte';
import CodeStatus from '../src/wants/CodeStatus.svelte';
import { hexByte, spaced } from '../src/wants/codes';
import type { NumberTyped } from '../src/door/types/NumberTyped';
import {
  canLimit,
  emptyLimits,
  type Limits,
  limitsOf,
  needsAt,
  specOf,
  typedIn,
} from '../src/wants/limits';
import {
  adapterOf,
  type PlanNumbers,
  planSet,
  type PlanSet,
  toolOf,
  typedIn as planTyped,
} from '../src/wants/plan';
import { say, words } from '../src/words';
import type { TrendView } from '../src/door/types/TrendView';

const point = (n: number, rate: number, lo: number, hi: number, job: string | null) => ({
  job,
  label: `visit ${n}`,
  words: `visit ${n}: ${n} pieces`,
  n,
  per_10000_km: rate,
  lo,
  hi,
});

test.each([
  [0.7, 1],
  [1, 1],
  [1.01, 2],
  [23.4, 50],
  [51, 100],
])('%d rounds up to %d', (value, expected) => {
  expect(roundUp(value)).toBeCloseTo(expected);
});

test('visits lie by their rate; one without a distance is left out', () => {
  const scale = trendScale([
    point(5, 2.5, 1, 5.3, 'a'),
    { ...point(3, 0, 0, 0, 'b'), per_10000_km: null, lo: null, hi: null },
    point(15, 15, 9.2, 23.1, null),
  ]);
  expect(scale?.points.map(({ index, now }) => [index, now])).toEqual([
    [0, false],
    [2, true],
  ]);
  expect(scale?.points[1]?.hi).toBeCloseTo(23.1 / 50);
  expect(scale?.ticks.map(({ label }) => label)).toEqual(['0', '25', '50']);
  expect(trendScale([])).toBeNull();
});

test('the trend says in words what it draws', () => {
  const trend: TrendView = {
    words: 'More than before: 15 pieces.',
    verdict: 'more_than_before',
    compared: 'Pieces of 0.3 mm and more.',
    by_class: [],
    visits: [point(5, 2.5, 1, 5.3, 'a'), point(15, 15, 9.2, 23.1, null)],
  };
  render(TrendPlot, { trend });
  expect(screen.getByRole('img')).toBeTruthy();
  expect(screen.getByText('More than before: 15 pieces.')).toBeTruthy();
  expect(screen.getByText('visit 15: 15 pieces')).toBeTruthy();
});

test('the cross order shows each bolt with its turn', () => {
  const bolts = [1, 3, 2].map((turn, i) => ({ x: i / 2, y: 0.5, turn }));
  const plan = {
    torque_nm: 10,
    torque_words: '',
    doubt: null,
    doubt_instead: null,
    tool_words: null,
    bolts,
    aspect: 1.4,
    photo: null,
    places_words: '3 bolts',
    passes: [],
    cautions: [],
  };
  const { container } = render(CrossOrder, { plan });
  const turns = [...container.querySelectorAll('text')].map((one) => one.textContent.trim());
  expect(turns).toEqual(['1', '2', '3']);
});

/** Reads as the core does where nothing is doubtful; the core's own tests hold the rest. */
const asRead = (typed: Record<string, NumberTyped>) =>
  Object.fromEntries(
    Object.entries(typed).map(([name, { typed: text }]) => {
      const times = text.endsWith('k') ? 1e3 : text.endsWith('M') ? 1e6 : 1;
      return [name, text === '' ? null : parseFloat(text) * times];
    }),
  );
const said = (limits: Limits) => specOf(limits, asRead(typedIn(limits)));

test('limits become the line that they say, and back', () => {
  const source = 'invented data sheet';
  const none = { ...emptyLimits(), source };
  expect([canLimit(none), said(none)]).toEqual([false, null]);
  const bare = { ...emptyLimits(), low: '11', high: '15', source };
  expect([canLimit(bare), needsAt(bare)]).toEqual([true, true]);
  // That the data name no temperature is said by a key, and no temperature is written.
  const unsaid = { ...bare, unsaid: true };
  expect([needsAt(unsaid), said(unsaid)?.at_c]).toEqual([false, null]);
  const range = { ...bare, at: '20' };
  expect(needsAt(range)).toBe(false);
  expect(said(range)).toEqual({ quantity: 'resistance', low: 11, high: 15, at_c: 20, source });
  // To ground there is a least, and no temperature.
  const ground = { ...range, quantity: 'insulation', low: '10M' } as const;
  expect(typedIn(ground).low?.quantity).toBe('resistance');
  expect(said(ground)).toEqual({
    quantity: 'insulation',
    low: 1e7,
    high: null,
    at_c: null,
    source,
  });
  const table = {
    ...emptyLimits(),
    form: 'table' as const,
    source,
    rows: [
      { celsius: '20', low: '2.441k', high: '2.894k' },
      { celsius: '', low: '', high: '' },
    ],
  };
  const spec = said(table);
  expect(spec?.sensor).toEqual({
    kind: 'table',
    rows: [{ celsius: 20, low_ohms: 2441, high_ohms: 2894 }],
  });
  if (spec) expect(said(limitsOf(spec))).toEqual(spec);
  // Half a row is not written.
  const half = { ...table, rows: [{ celsius: '20', low: '', high: '' }] };
  expect([canLimit(half), said(half)]).toEqual([false, null]);
});

test('an adapter and a tool count when they are whole and shown', () => {
  const set = { ...planSet(), adapter: true, lever: '250', length: '40', angle: '45' };
  const read = (one: PlanSet) => asRead(planTyped(one)) as PlanNumbers;
  expect(adapterOf(read(set))).toEqual({ lever_mm: 250, adapter_mm: 40, angle_deg: 45 });
  expect(adapterOf(read({ ...set, length: '' }))).toBeNull();
  expect(adapterOf(read({ ...set, adapter: false }))).toBeNull();
  const scale = { ...set, tool: 'scale', most: '10' } as const;
  expect(toolOf(read(scale))).toEqual({ kind: 'scale', most_nm: 10 });
  expect(toolOf(read({ ...set, tool: 'percent' }))).toBeNull();
});

test('a status byte is typed in two digits or tapped bit by bit', () => {
  expect([hexByte(5), hexByte(0xaf), spaced('07411C')]).toEqual(['05', 'AF', '07 41 1C']);
  let status: number | undefined = 0x09;
  render(CodeStatus, { code: 'P0741', status, onchange: (to) => (status = to) });
  screen.getByRole('button', { name: '2 pending' }).click();
  expect(status).toBe(0x0d);
  screen.getByRole('button', { name: '2' }).click();
  screen.getByRole('button', { name: 'F' }).click();
  expect(status).toBe(0x2f);
});

test('a code in the list gets its failure type by one key and two digits', async () => {
  const want = {
    kind: 'codes',
    moment: 'before',
    optional: false,
    have: false,
    words: '',
    value: null,
    offers: [],
  };
  const job = { id: 'j', codes_before: null, codes_after: null };
  render(Codes, { job, step: { id: 'codes-before' }, want, ondone: () => undefined } as never);
  const press = async (...keys: string[]): Promise<void> => {
    for (const key of keys) {
      screen.getByRole('button', { name: key }).click();
      await tick();
    }
  };
  // Begun and taken back, then a later choice of state: the code keeps its own.
  await press('Pending', 'P07', '4', '1', 'Failure type of P0741', say('keypad-erase'), 'Stored');
  await press('Failure type of P0741', '1', 'C');
  expect(screen.getByText('P0741-1C')).toBeTruthy();
  expect(screen.queryByText('P0741')).toBeNull();
  const [row] = screen.getAllByRole('listitem');
  expect(row?.textContent).toContain(words.codes.states.pending);
});
