/** What stays as it is from part to part at the bench. */
export interface BenchSet {
  /** The leads held together, as typed. */
  leads: string;
  /** The part's temperature as typed, in this device's unit. */
  part: string;
  /** It may be off by so many kelvin either way. */
  within: string;
  /** The most that the meter can show, as typed. */
  top: string;
  /** Contact was shown, by the technician's word. */
  shown: boolean;
  /** A part that was read with the same leads. */
  sibling: string;
}

export type BenchField = 'sample' | 'leads' | 'part' | 'top';

export const benchSet = (): BenchSet => ({
  leads: '',
  part: '',
  within: '3',
  top: '',
  shown: false,
  sibling: '',
});

/** Which of these a quantity has. */
export const FIELDS = {
  resistance: ['leads', 'part'],
  insulation: ['top'],
  voltage: [],
  frequency: [],
} as const satisfies Record<string, readonly BenchField[]>;
