/** Which pieces are shown: by class and by size. An empty choice shows all. */
import type { DebrisClass } from '../../../door/types/DebrisClass';
import type { ParticleView } from '../../../door/types/ParticleView';
import type { SizeClass } from '../../../door/types/SizeClass';

export interface Filter {
  classes: DebrisClass[];
  sizes: SizeClass[];
}

export const everything: Filter = { classes: [], sizes: [] };

export function shown(pieces: readonly ParticleView[], filter: Filter): ParticleView[] {
  return pieces.filter(
    (piece) =>
      (filter.classes.length === 0 || filter.classes.includes(piece.class)) &&
      (filter.sizes.length === 0 ||
        (piece.iso16232 !== null && filter.sizes.includes(piece.iso16232))),
  );
}

export function toggle<T>(list: readonly T[], one: T): T[] {
  return list.includes(one) ? list.filter((other) => other !== one) : [...list, one];
}
