/** A number that a step asks for: read by the core as it was typed, and written. */
import type { WantView } from '../door/types/WantView';
import { write } from '../state/session.svelte';
import { readNumbers, withUnit } from '../state/units';

interface Asked {
  topic: string;
  label: string;
  measures: WantView['measures'];
}

/** Whether it is written now. */
export async function keepNumber(
  step: string,
  { topic, label, measures }: Asked,
  typed: string,
  unit: string,
): Promise<boolean> {
  const read = await readNumbers({ value: { name: label, typed, quantity: measures } });
  if (read?.value == null) return false;
  const line = { step, topic, value: read.value, typed: withUnit(typed, unit) };
  return Boolean(await write({ fact: 'measured', ...line }));
}
