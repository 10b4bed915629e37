import type { AmpsBy } from '../door/types/AmpsBy';
import type { ReadingKind } from '../door/types/ReadingKind';
import type { TemperatureFrom } from '../door/types/TemperatureFrom';

/** What stays as it is from part to part at the bench. */
export interface BenchSet {
  /** The leads held together, as typed. */
  leads: string;
  /** The part's temperature as typed, in this device's unit. */
  part: string;
  /** Where that was read; empty while it is not said. */
  from: TemperatureFrom | '';
  /** The most that the meter can show, as typed. */
  top: string;
  /** Test voltage of an insulation tester, as typed. */
  volts: string;
  /** Contact was shown, by the technician's word. */
  shown: boolean;
  /** A part that was read with the same leads. */
  sibling: string;
  /** Volt at the part while current flows, as typed: of one reading. */
  applied: string;
  /** What the amperes are read by; empty while it is not said. */
  by: AmpsBy | '';
  /** It clicked, or not; empty while it is not said. */
  click: '' | 'heard' | 'none';
}

export type BenchField = 'sample' | 'leads' | 'part' | 'top' | 'volts' | 'applied';

export const benchSet = (by: AmpsBy | null = null): BenchSet => ({
  leads: '',
  part: '',
  from: '',
  top: '',
  volts: '',
  shown: false,
  sibling: '',
  applied: '',
  by: by ?? '',
  click: '',
});

/** Which of these a kind of reading has; none where it is not named. */
export const FIELDS: Partial<Record<ReadingKind, readonly BenchField[]>> = {
  resistance: ['leads', 'part'],
  insulation: ['top', 'volts'],
  applied: ['applied'],
};
