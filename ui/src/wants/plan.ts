/** What is said of a tightening beside its torque, half typed. */
import type { AdapterUsed } from '../door/types/AdapterUsed';
import type { Fact } from '../door/types/Fact';
import type { TorqueTool } from '../door/types/TorqueTool';
import { numberOf } from '../paper/turn';

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

/** Null while a length is missing. */
export function adapterOf(set: PlanSet): AdapterUsed | null {
  if (!set.adapter) return null;
  const used = {
    lever_mm: numberOf(set.lever),
    adapter_mm: numberOf(set.length),
    angle_deg: numberOf(set.angle),
  };
  return Object.values(used).some(Number.isNaN) ? null : used;
}

/** Null when it is not said. */
export function toolOf(set: PlanSet): TorqueTool | null {
  const most_nm = numberOf(set.most);
  const percent = numberOf(set.percent);
  if (set.tool === 'scale' && !Number.isNaN(most_nm)) return { kind: 'scale', most_nm };
  if (set.tool === 'percent' && !Number.isNaN(percent)) return { kind: 'percent', percent };
  return null;
}
