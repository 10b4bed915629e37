import type { Reading } from '../door/types/Reading';
import type { ReadingKind } from '../door/types/ReadingKind';
import { session } from '../state/session.svelte';
import { readNumbers } from '../state/units';
import { say, words } from '../words';
import type { BenchField, BenchSet } from './bench';

interface Asked {
  quantity: ReadingKind;
  fields: readonly BenchField[];
  inOhms: boolean;
  /** The part that is read. */
  of: string;
}

/** Everything of a reading but its samples; null without a meter, and where a number can't be read. */
export async function conditionsOf(
  { leads, part, top, volts, from, shown, sibling, applied, by, click }: BenchSet,
  { quantity, fields, inOhms, of }: Asked,
): Promise<Omit<Reading, 'samples'> | null> {
  const has = (one: BenchField): boolean => fields.includes(one);
  const read = await readNumbers({
    part: { name: say('readings-part'), typed: has('part') ? part : '', quantity: 'temperature' },
    volts: {
      name: words.readings.field('volts', '', ''),
      typed: has('volts') ? volts : '',
      quantity: 'voltage',
    },
  });
  const { meter, guard } = session.start?.settings ?? {};
  if (!read || !meter) return null;
  return {
    quantity,
    // Leads that carried current show the contact of a reading to ground as well.
    leads: (inOhms && leads.trim()) || null,
    part_c: read.part,
    ...(has('part') && read.part !== null && from ? { part_from: from } : {}),
    ...(read.volts === null ? {} : { test_volts: read.volts }),
    meter,
    contact_shown: shown,
    ...(sibling && sibling !== of ? { sibling } : {}),
    ...(has('top') && top.trim() ? { range_top: top.trim() } : {}),
    ...(guard == null ? {} : { guard }),
    ...(has('applied') && by
      ? { applied: { volts: applied.trim(), by, click: click === '' ? null : click === 'heard' } }
      : {}),
  };
}
