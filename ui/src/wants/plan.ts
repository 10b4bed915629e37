/** What is said of a tightening beside its torque, half typed. */
import type { AdapterUsed } from '../door/types/AdapterUsed';
import type { Fact } from '../door/types/Fact';
import type { TorqueTool } from '../door/types/TorqueTool';
import type { Numbers, NumbersTyped } from '../state/units';
import { say } from '../words';

/** What the line says of a tightening beside its torque and passes. */
export type TightenExtra = Partial<
  Pick<Extract<Fact, { fact: 'tightened' }>, 'bolts' | 'last_round' | 'adapter' | 'tool'>
>;

export interface PlanSet {
  /** How many bolts; empty: as the core knows. */
  bolts: string;
  sealant: boolean;
  adapter: boolean;
  lever: string;
  length: string;
  angle: string;
  tool: 'none' | 'scale' | 'percent';
  most: string;
  percent: string;
  /** Passes that are ticked, by number. */
  done: number[];
}

export const planSet = (): PlanSet => ({
  bolts: '',
  sealant: false,
  adapter: false,
  lever: '',
  length: '',
  angle: '0',
  tool: 'none',
  most: '',
  percent: '',
  done: [],
});

type Field = 'bolts' | 'lever' | 'length' | 'angle' | 'most' | 'percent';
export type PlanNumbers = Numbers<Field>;

/** What of it is a number, for the core to read; only what the form shows. */
export function typedIn(set: PlanSet): NumbersTyped<Field> {
  const when = (shown: boolean, typed: string): string => (shown ? typed : '');
  const { adapter, tool } = set;
  return {
    bolts: { name: say('plan-bolts'), typed: set.bolts, quantity: null },
    lever: { name: say('plan-lever'), typed: when(adapter, set.lever), quantity: 'length' },
    length: { name: say('plan-length'), typed: when(adapter, set.length), quantity: 'length' },
    angle: { name: say('plan-angle'), typed: when(adapter, set.angle), quantity: null },
    most: { name: say('plan-most'), typed: when(tool === 'scale', set.most), quantity: 'torque' },
    percent: {
      name: say('plan-percent'),
      typed: when(tool === 'percent', set.percent),
      quantity: null,
    },
  };
}

/** Null while a length is missing. */
export function adapterOf(read: PlanNumbers): AdapterUsed | null {
  const { lever: lever_mm, length: adapter_mm, angle: angle_deg } = read;
  return lever_mm === null || adapter_mm === null || angle_deg === null
    ? null
    : { lever_mm, adapter_mm, angle_deg };
}

/** Null when it is not said. */
export function toolOf(read: PlanNumbers): TorqueTool | null {
  if (read.most !== null) return { kind: 'scale', most_nm: read.most };
  if (read.percent !== null) return { kind: 'percent', percent: read.percent };
  return null;
}
