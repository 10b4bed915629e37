/** The maker's limits of one part, half typed, and the line that they make. */
import { readingRow } from '../door/tables';
import type { NumberTyped } from '../door/types/NumberTyped';
import type { ReadingKind } from '../door/types/ReadingKind';
import type { SensorData } from '../door/types/SensorData';
import type { SensorRow } from '../door/types/SensorRow';
import type { SpecEntered } from '../door/types/SpecEntered';
import { type Numbers, type NumbersTyped, typedOf } from '../state/units';
import { say } from '../words';

/** Two limits, a table of a temperature sensor, or its B value. */
export type LimitsForm = 'range' | 'table' | 'b_value';

export interface LimitRow {
  celsius: string;
  low: string;
  high: string;
}

export interface Limits {
  quantity: ReadingKind;
  form: LimitsForm;
  low: string;
  high: string;
  at: string;
  /** That the data name no temperature was pressed. */
  unsaid?: boolean;
  source: string;
  rows: LimitRow[];
  ohms: string;
  b: string;
  tolerance: string;
}

export const emptyRow = (): LimitRow => ({ celsius: '', low: '', high: '' });

export const emptyLimits = (): Limits => ({
  quantity: 'resistance',
  form: 'range',
  low: '',
  high: '',
  at: '',
  source: '',
  rows: [emptyRow(), emptyRow()],
  ohms: '',
  b: '',
  tolerance: '',
});

/** What of them is a number, by name, for the core to read; only what the form shows. */
export function typedIn(limits: Limits): NumbersTyped<string> {
  const { quantity, form } = limits;
  const ohms = (name: string, typed: string): NumberTyped => ({
    name,
    typed,
    quantity: 'resistance',
  });
  const celsius = (name: string, typed: string): NumberTyped => ({
    name,
    typed,
    quantity: 'temperature',
  });
  const bare = (name: string, typed: string): NumberTyped => ({ name, typed, quantity: null });
  if (form === 'table' && quantity === 'resistance') {
    const rows = limits.rows.flatMap((row, at) => [
      [`celsius ${at}`, celsius(say('limits-celsius'), row.celsius)],
      [`low ${at}`, ohms(say('bench-low'), row.low)],
      [`high ${at}`, ohms(say('bench-high'), row.high)],
    ]);
    return Object.fromEntries(rows) as NumbersTyped<string>;
  }
  if (form === 'b_value' && quantity === 'resistance') {
    return {
      ohms: ohms(say('limits-ohms'), limits.ohms),
      at: celsius(say('bench-at'), limits.at),
      b: bare(say('limits-b'), limits.b),
      tolerance: bare(say('limits-tolerance'), limits.tolerance),
    };
  }
  const of = readingRow(quantity).quantity;
  return {
    low: { name: say('bench-low'), typed: limits.low, quantity: of },
    ...(quantity === 'insulation'
      ? {}
      : { high: { name: say('bench-high'), typed: limits.high, quantity: of } }),
    ...(quantity === 'resistance' ? { at: celsius(say('bench-at'), limits.at) } : {}),
  };
}

/** Enough is typed to limit by. */
export function canLimit(set: Limits): boolean {
  const said = (typed: string): boolean => typed.trim() !== '';
  if (set.quantity !== 'resistance' || set.form === 'range')
    return said(set.low) || (set.quantity !== 'insulation' && said(set.high));
  return set.form === 'table'
    ? set.rows.some((row) => Object.values(row).every(said))
    : [set.ohms, set.at, set.b, set.tolerance].every(said);
}

/** Nobody said yet which temperature two limits of a resistance hold at: 20 °C is no maker's word. */
export const needsAt = ({ quantity, form, at, unsaid }: Limits): boolean =>
  quantity === 'resistance' && form === 'range' && at.trim() === '' && !unsaid;

type Read = Numbers<string>;

function sensorOf(limits: Limits, read: Read): SensorData | null {
  if (limits.form === 'table') {
    const rows: SensorRow[] = [];
    for (const at of limits.rows.keys()) {
      const celsius = read[`celsius ${at}`];
      const low_ohms = read[`low ${at}`];
      const high_ohms = read[`high ${at}`];
      if (celsius == null) continue;
      // Half a row is not written.
      if (low_ohms == null || high_ohms == null) return null;
      rows.push({ celsius, low_ohms, high_ohms });
    }
    return rows.length > 0 ? { kind: 'table', rows } : null;
  }
  const { ohms, at: reference_c, b: b_kelvin, tolerance: tolerance_percent } = read;
  return ohms == null || reference_c == null || b_kelvin == null || tolerance_percent == null
    ? null
    : { kind: 'b_value', ohms, reference_c, b_kelvin, tolerance_percent };
}

/** The line to write, from what the core read; null while there is nothing to limit by. */
export function specOf(limits: Limits, read: Read): SpecEntered | null {
  const { quantity, form } = limits;
  const source = limits.source.trim();
  if (form !== 'range' && quantity === 'resistance') {
    const sensor = sensorOf(limits, read);
    return sensor && { quantity, low: null, high: null, at_c: null, source, sensor };
  }
  const { low = null, high = null, at: at_c = null } = read;
  if (low === null && high === null) return null;
  return { quantity, low, high, at_c, source };
}

/** Those of another part, to be changed or written as they are. */
export function limitsOf(spec: SpecEntered): Limits {
  const text = (value: number | null): string => (value === null ? '' : String(value));
  const limits: Limits = {
    ...emptyLimits(),
    quantity: spec.quantity,
    low: text(spec.low),
    high: text(spec.high),
    at: typedOf(spec.at_c, 'temperature'),
    unsaid: spec.at_c === null,
    source: spec.source,
  };
  const { sensor } = spec;
  if (sensor?.kind === 'table') {
    const rows = sensor.rows.map((row) => ({
      celsius: typedOf(row.celsius, 'temperature'),
      low: text(row.low_ohms),
      high: text(row.high_ohms),
    }));
    return { ...limits, form: 'table', rows };
  }
  if (sensor?.kind === 'b_value') {
    return {
      ...limits,
      form: 'b_value',
      ohms: text(sensor.ohms),
      at: typedOf(sensor.reference_c, 'temperature'),
      b: text(sensor.b_kelvin),
      tolerance: text(sensor.tolerance_percent),
    };
  }
  return limits;
}
