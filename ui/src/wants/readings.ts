/** What of the parts was read, and what like parts read about. */
import type { ComponentView } from '../door/types/ComponentView';
import type { NearView } from '../door/types/NearView';
import type { ReadingKind } from '../door/types/ReadingKind';
import type { ReadingView } from '../door/types/ReadingView';
import { say } from '../words';
import type { BenchField, BenchSet } from './bench';

/** The newest reading of a quantity. */
export const lastOf = (part: ComponentView, quantity: ReadingKind): ReadingView | undefined =>
  part.readings.findLast((reading) => reading.quantity === quantity);

/** The other parts that showed a number: leads that read them have contact. */
export const siblingsOf = (parts: readonly ComponentView[], but?: ComponentView) =>
  parts
    .filter((one) => one !== but && one.readings.some((reading) => reading.value !== null))
    .map(({ entry, name }) => ({ id: entry, label: name }));

/** Numbers near those of like parts: a key each. */
export const nearOf = (near: readonly NearView[] | undefined, part?: ComponentView): string[] =>
  near?.find((one) => one.component === part?.entry)?.typed ?? [];

/** What must be said of a reading before its samples; empty when nothing is missing. */
export function lackingIn(
  bench: BenchSet,
  field: BenchField,
  withVolts: boolean,
  part: string,
): string {
  if (field === 'applied' && !bench.applied.trim())
    return say('readings-applied-first', { name: part });
  if (withVolts && !bench.by) return say('readings-by-first');
  return field === 'part' && bench.part && !bench.from ? say('readings-from-first') : '';
}
