/** What of the parts was read, and what like parts read about. */
import type { ComponentView } from '../door/types/ComponentView';
import type { LastChoices } from '../door/types/LastChoices';
import type { MeterUsed } from '../door/types/MeterUsed';
import type { NearView } from '../door/types/NearView';
import type { Reading } from '../door/types/Reading';
import type { ReadingKind } from '../door/types/ReadingKind';
import type { ReadingView } from '../door/types/ReadingView';
import { draft } from '../state/draft.svelte';
import { write } from '../state/session.svelte';
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

/** The unit that a meter's display showed such parts in, in the shop's last job. */
export const displayUnitOf = (
  last: LastChoices | undefined,
  quantity: ReadingKind,
  part?: ComponentView,
  meter?: MeterUsed | null,
): string | undefined =>
  last?.read_in.find(
    (one) => one.quantity === quantity && one.kind === part?.kind && one.meter === meter?.name,
  )?.symbol;

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

/** What is typed at the bench and not written yet. */
export const readingForm = (quantity: ReadingKind) =>
  draft(`reading ${quantity}`, {
    component: '',
    samples: [] as string[],
    typing: '',
    /** What was typed for the part before: like parts often read the same. */
    before: null as { name: string; typed: string } | null,
  });

/** The same of each part: readings of their own, as if typed one after another. False where one is not written. */
export async function writeEach(
  parts: readonly ComponentView[],
  samples: string[],
  conditions: (part: string) => Promise<Omit<Reading, 'samples'> | null>,
  tell: (part: string) => void,
): Promise<boolean> {
  for (const { entry } of parts) {
    const set = await conditions(entry);
    if (!set) return false;
    const reading = { ...set, samples };
    if (!(await write({ fact: 'reading_taken', component: entry, reading }))) return false;
    tell(entry);
  }
  return true;
}
