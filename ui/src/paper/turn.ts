import { say } from '../words';

/** One turn of the dial: from what is typed, a step further, kept inside the limits. */
export function turn(typed: string, step: number, min: number, max: number): string {
  const size = Math.abs(step);
  const places = Math.max(0, Math.ceil(-Math.log10(size) - 1e-9));
  const now = typed.trim() === '' ? Number.NaN : numberOf(typed);
  const from = Number.isNaN(now) ? Math.max(min, Math.min(max, 0)) : now + step;
  const kept = Math.max(min, Math.min(max, from));
  return kept.toFixed(places).replace('.', say('keypad-mark'));
}

/** What is typed as a number; a comma counts as the point. `NaN` when it is none. */
export function numberOf(typed: string): number {
  const text = typed.trim().replace(',', '.');
  return text === '' ? Number.NaN : Number(text);
}
