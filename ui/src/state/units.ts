/** The units that this device is set to, and what is typed in them read by the core. */
import { call } from '../door';
import type { StartView } from '../door/types/StartView';
import type { NumberTyped } from '../door/types/NumberTyped';
import type { Unit } from '../door/types/Unit';
import type { UnitOffered } from '../door/types/UnitOffered';
import type { Units } from '../door/types/Units';
import { say } from '../words';
import { attempt, session } from './session.svelte';

/** What trades measure differently. */
export type Choosable = keyof Units;
export const choosable: readonly Choosable[] = [
  'distance',
  'temperature',
  'torque',
  'volume',
  'length',
];

export function unitOf(quantity: Choosable): UnitOffered | undefined {
  const chosen = session.start?.settings.units[quantity];
  return session.start?.units.find(({ unit }) => unit === chosen);
}

export const symbolOf = (quantity: Choosable): string => unitOf(quantity)?.symbol ?? '';

/** What was typed with its unit: the one that was typed with it, else this. */
export const withUnit = (typed: string, unit: string): string =>
  /[a-z%°"']/i.test(typed) ? typed : `${typed} ${unit}`.trim();

/** A number of the core as it would be typed here; empty for none. */
export function typedOf(base: number | null | undefined, quantity: Choosable): string {
  if (base == null) return '';
  const { scale = 1, offset = 0 } = unitOf(quantity) ?? {};
  return String(Number(((base - offset) / scale).toFixed(3)));
}

/** One turn of a dial that goes by so many millimetres: in inches about as far, in round steps. */
export function lengthTurn(mm: number): number {
  return unitOf('length')?.unit === 'inch' ? mm / 20 : mm;
}

export type NumbersTyped<K extends string> = Record<K, NumberTyped>;
export type Numbers<K extends string> = Record<K, number | null>;

/** Asks the core to read what was typed; rejects with its problem. */
export async function askNumbers<K extends string>(typed: NumbersTyped<K>): Promise<Numbers<K>> {
  const names = Object.keys(typed) as K[];
  const reply = await call({ do: 'read_numbers', typed: names.map((name) => typed[name]) });
  return Object.fromEntries(
    names.map((name, at) => [name, reply.numbers[at] ?? null]),
  ) as Numbers<K>;
}

/** The same; a problem is shown at the thumb, and the answer is null. */
export function readNumbers<K extends string>(typed: NumbersTyped<K>): Promise<Numbers<K> | null> {
  return attempt(say('busy-reading'), () => askNumbers(typed));
}

/** A first guess by the device's region. */
export function homeUnits(start: StartView, language = navigator.language): Units {
  const region = language.split('-')[1] ?? '';
  const home = start.unit_sets.find(({ regions }) => regions.includes(region));
  return home?.units ?? start.settings.units;
}

/** Those of a shop that is set up already, else the guess. */
export function unitsHere(start: StartView): Units {
  return start.settings.shop ? start.settings.units : homeUnits(start);
}

/** The units to choose from for one quantity. */
export function offered(quantity: Choosable): { id: Unit; label: string }[] {
  return (session.start?.units ?? [])
    .filter((one) => one.quantity === quantity)
    .map(({ unit, symbol }) => ({ id: unit, label: symbol }));
}
