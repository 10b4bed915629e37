/** Close-ups of pieces: at which of a few common scales, and the outline drawn outside the piece. */
import type { ParticleView } from '../door/types/ParticleView';
import { sayNumber } from '../words/language.svelte';

type Point = readonly [number, number];

/** A piece is at least so long in its close-up, screen px, and not lost in a wide one. */
export const LEAST_PX = 48;
/** From one common scale to the next: what lies between them fits a close-up. */
const STEP = 1.75;

/** The box around an outline, px of the picture. */
export function boxOf(points: readonly Point[], margin = 0): Box {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [left, top] = [Math.min(...xs) - margin, Math.min(...ys) - margin];
  return {
    left,
    top,
    width: Math.max(...xs) + margin - left,
    height: Math.max(...ys) + margin - top,
  };
}
export interface Box {
  left: number;
  top: number;
  width: number;
  height: number;
}

const pointsOf = (piece: ParticleView): readonly Point[] =>
  piece.outline_px.length > 0 ? piece.outline_px : [piece.at_px];

/** The greatest distance between two points of an outline, px of the picture. */
function longest(points: readonly Point[]): number {
  let most = 0;
  for (const [x, y] of points)
    for (const [a, b] of points) most = Math.max(most, Math.hypot(a - x, b - y));
  return most;
}

/** What a close-up shows. */
export interface CloseUp {
  /** The middle of it, px of the picture. */
  at: Point;
  /** Screen px to one px of the picture. */
  zoom: number;
  /** The longer side of the box around the piece, screen px. */
  long: number;
  /** The bar: a round length, and how long it is drawn; none without a scale. */
  bar: { mm: number; px: number } | null;
}

const ROUND_MM = [20, 10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.02];

export function closeUp(piece: ParticleView, side: number): CloseUp {
  const points = pointsOf(piece);
  const box = boxOf(points);
  const feret = Math.max(1, longest(points));
  const mmPerPx = piece.feret_max_mm > 0 ? piece.feret_max_mm / feret : 0;
  const unit = mmPerPx || 1;
  // The common scales are in px a millimetre, so that one bar means one length on all of them.
  const least = Math.max(LEAST_PX, side * 0.44);
  const wanted = least / (Math.max(1, box.width, box.height) * unit);
  const common = STEP ** Math.ceil(Math.log(wanted) / Math.log(STEP));
  const zoom = common * unit;
  const mm = ROUND_MM.find((length) => mmPerPx > 0 && (length / mmPerPx) * zoom <= side * 0.55);
  return {
    at: [box.left + box.width / 2, box.top + box.height / 2],
    zoom,
    long: Math.max(box.width, box.height) * zoom,
    bar: mm === undefined ? null : { mm, px: (mm / mmPerPx) * zoom },
  };
}

/** The outline moved outwards by `gap` px, so that a line along it covers nothing of the piece. */
export function outside(outline: readonly Point[], gap: number): Point[] {
  const points = smooth(spaced(outline, Math.max(1, gap / 2)));
  const n = points.length;
  if (n < 3) return points;
  let area = 0;
  for (let i = 0; i < n; i += 1) {
    const [x, y] = points[i]!;
    const [a, b] = points[(i + 1) % n]!;
    area += x * b - a * y;
  }
  const out = Math.sign(area) || 1;
  const reach = Math.min(3, Math.floor((n - 1) / 2));
  return points.map(([x, y], i) => {
    const [ax, ay] = points[(i - reach + n) % n]!;
    const [bx, by] = points[(i + reach) % n]!;
    const far = Math.hypot(bx - ax, by - ay) || 1;
    return [x + (out * gap * (by - ay)) / far, y - (out * gap * (bx - ax)) / far];
  });
}

/** Each point in the middle of its neighbours: the steps of the pixels are not drawn. */
function smooth(points: readonly Point[]): Point[] {
  const n = points.length;
  if (n < 8) return [...points];
  return points.map((_, i) => {
    let [x, y] = [0, 0];
    for (let by = -2; by <= 2; by += 1) {
      const near = points[(i + by + n) % n]!;
      x += near[0] / 5;
      y += near[1] / 5;
    }
    return [x, y];
  });
}

/** Points along the outline no farther apart than `step`, so that corners are rounded, not cut. */
function spaced(outline: readonly Point[], step: number): Point[] {
  const points: Point[] = [];
  outline.forEach(([x, y], i) => {
    const [a, b] = outline[(i + 1) % outline.length]!;
    const parts = Math.min(40, Math.max(1, Math.ceil(Math.hypot(a - x, b - y) / step)));
    for (let k = 0; k < parts; k += 1)
      points.push([x + ((a - x) * k) / parts, y + ((b - y) * k) / parts]);
  });
  return points;
}

export function pathOf(points: readonly Point[]): string {
  return `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`;
}

export const mmOf = (mm: number): string => `${sayNumber(mm, 2)} mm`;
