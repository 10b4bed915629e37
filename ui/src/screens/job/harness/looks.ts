/** The matrix of a part's wires as it is typed: a field a number. */
import type { HarnessRead } from '../../../door/types/HarnessRead';
import type { MeterUsed } from '../../../door/types/MeterUsed';

/** Where the probes are: at the control unit's connector, at the part alone, along each wire. */
export const LOOKS = ['c', 'c1', 'c2', 'p', 'p1', 'p2', 'w1', 'w2'] as const;
export type Look = (typeof LOOKS)[number];

export type Typed = Record<Look | 'leads' | 'pin1' | 'pin2', string>;

/** The first six tell where it is; the wires are read where those leave it open. */
export const ASKED = LOOKS.slice(0, 6);

export function typedOf(read: HarnessRead | undefined, leads: string): Typed {
  const said = (typed: string | null | undefined): string => typed ?? '';
  return {
    c: said(read?.control.across),
    c1: said(read?.control.to_ground[0]),
    c2: said(read?.control.to_ground[1]),
    p: said(read?.part.across),
    p1: said(read?.part.to_ground[0]),
    p2: said(read?.part.to_ground[1]),
    w1: said(read?.wires[0]),
    w2: said(read?.wires[1]),
    leads: read?.leads ?? leads,
    pin1: said(read?.pins[0]),
    pin2: said(read?.pins[1]),
  };
}

export function readOf(typed: Typed, meter: MeterUsed): HarnessRead {
  const said = (one: Look | 'leads'): string | null => typed[one].trim() || null;
  return {
    pins: [typed.pin1.trim(), typed.pin2.trim()],
    control: { across: said('c'), to_ground: [said('c1'), said('c2')] },
    part: { across: said('p'), to_ground: [said('p1'), said('p2')] },
    wires: [said('w1'), said('w2')],
    leads: said('leads'),
    meter,
  };
}

export const count = (typed: Typed): number => LOOKS.filter((one) => typed[one].trim()).length;

/** The next one that is asked and not typed. */
export const nextOf = (typed: Typed): Look | undefined => ASKED.find((one) => !typed[one].trim());

/** Nothing of it was typed anew since. */
export function isAsRead(typed: Typed, read: HarnessRead): boolean {
  const before = typedOf(read, '');
  return [...LOOKS, 'leads' as const, 'pin1' as const, 'pin2' as const].every(
    (one) => typed[one].trim() === before[one].trim(),
  );
}
