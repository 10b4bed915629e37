/** The maker's limits of one part, half typed, and the line that they make. */
import type { Quantity } from '../door/types/Quantity';
import type { SensorData } from '../door/types/SensorData';
import type { SpecEntered } from '../door/types/SpecEntered';
import { numberOf } from '../paper/turn';

/** Two limits, a table of a temperature sensor, or its B value. */
export type LimitsForm = 'range' | 'table' | 'b_value';

export interface LimitRow {
  celsius: string;
  low: string;
  high: string;
}

export interface Limits {
  quantity: Quantity;
  form: LimitsForm;
  low: string;
  high: string;
  at: string;
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
  at: '20',
  source: '',
  rows: [emptyRow(), emptyRow()],
  ohms: '',
  b: '',
  tolerance: '',
});

/** "2.5k", "10M", "12,4"; `NaN` when it is no number. */
export function ohmsOf(typed: string): number {
  const text = typed.trim();
  const times = text.endsWith('k') ? 1e3 : text.endsWith('M') ? 1e6 : 1;
  return numberOf(times === 1 ? text : text.slice(0, -1)) * times;
}

const orNull = (number: number): number | null => (Number.isNaN(number) ? null : number);

function sensorOf(limits: Limits): SensorData | null {
  if (limits.form === 'table') {
    const rows = limits.rows
      .filter((row) => row.celsius.trim() !== '')
      .map((row) => ({
        celsius: numberOf(row.celsius),
        low_ohms: ohmsOf(row.low),
        high_ohms: ohmsOf(row.high),
      }));
    const whole = rows.every((row) => !Object.values(row).some(Number.isNaN));
    return rows.length > 0 && whole ? { kind: 'table', rows } : null;
  }
  const data = {
    ohms: ohmsOf(limits.ohms),
    reference_c: numberOf(limits.at),
    b_kelvin: numberOf(limits.b),
    tolerance_percent: numberOf(limits.tolerance),
  };
  return Object.values(data).some(Number.isNaN) ? null : { kind: 'b_value', ...data };
}

/** The line to write; null while there is nothing to limit by. */
export function specOf(limits: Limits): SpecEntered | null {
  const { quantity, form } = limits;
  const source = limits.source.trim();
  if (form !== 'range' && quantity === 'resistance') {
    const sensor = sensorOf(limits);
    return sensor && { quantity, low: null, high: null, at_c: null, source, sensor };
  }
  const low = orNull(ohmsOf(limits.low));
  const high = quantity === 'insulation' ? null : orNull(ohmsOf(limits.high));
  if (low === null && high === null) return null;
  const at_c = quantity === 'resistance' ? orNull(numberOf(limits.at)) : null;
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
    at: text(spec.at_c),
    source: spec.source,
  };
  const { sensor } = spec;
  if (sensor?.kind === 'table') {
    const rows = sensor.rows.map((row) => ({
      celsius: text(row.celsius),
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
      at: text(sensor.reference_c),
      b: text(sensor.b_kelvin),
      tolerance: text(sensor.tolerance_percent),
    };
  }
  return limits;
}
