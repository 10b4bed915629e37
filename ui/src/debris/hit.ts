/** Which piece a finger means. All lengths are pixels of the upright picture. */
import type { ParticleView } from '../door/types/ParticleView';

type Point = readonly [number, number];

function inside(point: Point, outline: readonly Point[]): boolean {
  let within = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i, i += 1) {
    const a = outline[i];
    const b = outline[j];
    if (!a || !b) continue;
    const crosses = a[1] > point[1] !== b[1] > point[1];
    if (crosses && point[0] < ((b[0] - a[0]) * (point[1] - a[1])) / (b[1] - a[1]) + a[0]) {
      within = !within;
    }
  }
  return within;
}

function distance(point: Point, piece: ParticleView): number {
  const points: Point[] = [piece.at_px, ...piece.outline_px];
  return Math.min(...points.map((one) => Math.hypot(one[0] - point[0], one[1] - point[1])));
}

/** The piece under the finger: one that holds the point, else the nearest within reach. */
export function pieceAt(
  point: Point,
  pieces: readonly ParticleView[],
  reach: number,
): ParticleView | null {
  const holding = pieces.filter((piece) => inside(point, piece.outline_px));
  const near = holding.length > 0 ? holding : pieces;
  let best: ParticleView | null = null;
  let least = holding.length > 0 ? Infinity : reach;
  for (const piece of near) {
    const far = distance(point, piece);
    if (far <= least) {
      best = piece;
      least = far;
    }
  }
  return best;
}
