/**
 * The pieces as they lie in the tray. The core says in which order; they stay where they were laid,
 * so that none moves away under the thumb when it is named.
 */
import type { ParticleView } from '../../../door/types/ParticleView';
import type { TrayPlace } from '../../../door/types/TrayPlace';

export type Heap = TrayPlace | 'not_debris';

interface Spot {
  rank: number;
  heap: Heap;
}
export type Laid = ReadonlyMap<string, Spot>;
export const nothingLaid: Laid = new Map();

export const numbersOf = (pieces: readonly ParticleView[]): ReadonlySet<number> =>
  new Set(pieces.map((piece) => piece.index));

const nameOf = ({ at_px: [x, y] }: ParticleView): string => `${x.toFixed(1)} ${y.toFixed(1)}`;

/** Where each lies: as before, else where the core puts it now. */
export function lay(before: Laid, pieces: readonly ParticleView[]): Laid {
  const at = (piece: ParticleView): [string, Spot] => {
    const name = nameOf(piece);
    const now = { rank: piece.rank, heap: piece.place ?? 'not_debris' } as const;
    return [name, before.get(name) ?? now];
  };
  return new Map(pieces.map(at));
}

export interface Group {
  heap: Heap;
  pieces: ParticleView[];
}

/** One heap for what is grave, one for what is in doubt; the rest by class. */
export function groups(laid: Laid, pieces: readonly ParticleView[]): Group[] {
  const spot = (piece: ParticleView): Spot =>
    laid.get(nameOf(piece)) ?? { rank: piece.rank, heap: piece.place ?? 'not_debris' };
  const sorted = [...pieces].sort((a, b) => spot(a).rank - spot(b).rank || a.index - b.index);
  const heaps: Heap[] = ['grave', 'doubtful', 'sure', 'not_debris'];
  return heaps
    .map((heap) => ({ heap, pieces: sorted.filter((piece) => spot(piece).heap === heap) }))
    .filter((group) => group.pieces.length > 0);
}
