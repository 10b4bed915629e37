/** What each class is called and how it is drawn: the core's table, in the language of the screens. */
import type { ClassRow } from '../door/types/ClassRow';
import { classTable } from '../door/types/classTable';
import type { DebrisClass } from '../door/types/DebrisClass';
import { language } from '../words/language.svelte';

export const classRows = (): readonly ClassRow[] => classTable[language.now];

export function rowOf(debris: DebrisClass): ClassRow {
  const rows = classRows();
  return rows.find((row) => row.class === debris) ?? rows[0]!;
}
