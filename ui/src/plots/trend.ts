/** Where the visits lie in their plot. Heights are shares of it, 0 to 1. */
import type { TrendPoint } from '../door/types/TrendPoint';
import { sayNumber } from '../words/language.svelte';

export interface TrendScale {
  points: { index: number; rate: number; lo: number; hi: number; now: boolean }[];
  ticks: { at: number; label: string }[];
}

/** A round number at or above `value`: 1, 2 or 5 times a power of ten. */
export function roundUp(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const step = [1, 2, 5, 10].find((one) => one * power >= value * (1 - 1e-9)) ?? 10;
  return step * power;
}

/** Null when no visit has a rate. */
export function trendScale(visits: readonly TrendPoint[]): TrendScale | null {
  const points = visits.flatMap(({ per_10000_km: rate, lo, hi, job }, index) =>
    rate === null || lo === null || hi === null ? [] : [{ index, rate, lo, hi, now: job === null }],
  );
  const most = Math.max(0, ...points.map((point) => point.hi));
  if (points.length === 0 || most === 0) return null;
  const top = roundUp(most);
  return {
    points: points.map((one) => ({
      ...one,
      rate: one.rate / top,
      lo: one.lo / top,
      hi: one.hi / top,
    })),
    ticks: [0, 0.5, 1].map((at) => ({ at, label: sayNumber(at * top, 3) })),
  };
}
