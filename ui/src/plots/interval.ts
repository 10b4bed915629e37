/** Where a reading and its limits lie on a line. Positions are shares of its width, 0 to 1. */

export interface Ruler {
  /** From, to of the limits; an open side reaches the end of the line. */
  low: number | null;
  high: number | null;
  /** From, to of the reading with its uncertainty. */
  from: number;
  to: number;
  at: number;
  ticks: { at: number; label: string }[];
}

const MARGIN = 0.08;

export function ruler(
  value: number,
  u: number,
  low: number | null,
  high: number | null,
): Ruler | null {
  if (!Number.isFinite(value) || !Number.isFinite(u)) return null;
  const marks = [value - u, value + u, low, high].filter((mark) => mark !== null);
  const min = Math.min(...marks);
  const max = Math.max(...marks);
  const span = max - min || Math.abs(max) || 1;
  const place = (x: number): number => MARGIN + ((x - min) / span) * (1 - 2 * MARGIN);
  const limits = [low, high].filter((limit) => limit !== null);
  return {
    low: low === null ? null : place(low),
    high: high === null ? null : place(high),
    from: place(value - u),
    to: place(value + u),
    at: place(value),
    ticks: limits.map((limit) => ({ at: place(limit), label: String(limit) })),
  };
}
