/** The core's tables of what is read and of electrical parts, in the language of the screens. */
import { language } from '../words/language.svelte';
import type { ComponentKind } from './types/ComponentKind';
import type { ComponentRow } from './types/ComponentRow';
import { componentTable } from './types/componentTable';
import type { ReadingKind } from './types/ReadingKind';
import type { ReadingRow } from './types/ReadingRow';
import { readingTable } from './types/readingTable';

/** The row of a kind, among those of one language. */
export function rowIn<K, R extends { kind: K }>(rows: readonly R[], kind: K): R {
  return rows.find((row) => row.kind === kind) ?? rows[0]!;
}

export const readingRow = (kind: ReadingKind): ReadingRow =>
  rowIn(readingTable[language.now], kind);
export const componentRow = (kind: ComponentKind): ComponentRow =>
  rowIn(componentTable[language.now], kind);

/** Oil at a pressure and what turns are reached by no wires. */
export const hasWires = (kind: ComponentKind): boolean =>
  !['oil', 'turning'].includes(componentRow(kind).inside);

const options = <K>(rows: readonly { kind: K; label: string }[]): { id: K; label: string }[] =>
  rows.map(({ kind, label }) => ({ id: kind, label }));

/** Every kind of reading as a key. */
export const readingKeys = () => options(readingTable[language.now]);
/** Every kind of part as a key. */
export const componentKeys = () => options(componentTable[language.now]);
