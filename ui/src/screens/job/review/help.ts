/** Taps on a photo as they are made, and as the log takes them. */
import type { PhotoHints } from '../../../door/types/PhotoHints';
import { numberOf } from '../../../paper/turn';

type Point = [number, number];

export interface Help {
  /** What the next tap means. */
  mode: 'taps' | 'subject' | 'fluid';
  taps: Point[];
  mm: string;
  onSubject: boolean;
  subject: Point | null;
  fluid: Point | null;
}

export const noHelp: Help = {
  mode: 'taps',
  taps: [],
  mm: '',
  onSubject: false,
  subject: null,
  fluid: null,
};

/** What is in force, as it was tapped. */
export function helpOf(hints: PhotoHints): Help {
  return {
    mode: hints.subject_at ? 'subject' : hints.fluid_at && !hints.taps ? 'fluid' : 'taps',
    taps: hints.taps ? [...hints.taps] : [],
    mm: hints.tap_mm == null ? '' : String(hints.tap_mm),
    onSubject: hints.taps_on === 'subject',
    subject: hints.subject_at ?? null,
    fluid: hints.fluid_at ?? null,
  };
}

export function tapped(help: Help, at: Point): Help {
  if (help.mode === 'subject') return { ...help, subject: at };
  if (help.mode === 'fluid') return { ...help, fluid: at };
  const before = help.taps.length >= 2 ? [] : help.taps;
  return { ...help, taps: [...before, at] };
}

export function marksOf(help: Help): Point[] {
  return [...help.taps, ...[help.subject, help.fluid].filter((point) => point !== null)];
}

/** There is something to read the photo with. */
export function helps(help: Help): boolean {
  const scaled = help.taps.length === 2 && numberOf(help.mm) > 0;
  const begun = help.taps.length === 1 || (help.taps.length === 2 && !scaled);
  return !begun && (scaled || help.subject !== null || help.fluid !== null);
}

export function hintsOf(help: Help): PhotoHints {
  const [a, b] = help.taps;
  const scaled = a !== undefined && b !== undefined;
  return {
    as: null,
    fluid_at: help.fluid,
    subject_at: help.subject,
    subject_height_mm: null,
    taps: scaled ? [a, b] : null,
    tap_mm: scaled ? numberOf(help.mm) : null,
    taps_height_mm: null,
    taps_on: scaled ? (help.onSubject ? 'subject' : 'ground') : null,
  };
}
