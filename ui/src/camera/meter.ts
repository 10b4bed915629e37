/** A meter before the camera: frames to the worker one at a time, its answers back. */
import { Easel, shares, watchBy, type Size } from './frames';
import { QUALITY } from './live';
import type { Ask } from './meter.worker';
import type { Answer } from './wasm';

const stands = ['nothing', 'waiting', 'taken', 'same'] as const;
const reasons = ['', 'none', 'cut_off', 'too_small', 'doubtful', 'no_number'] as const;

/** What a frame says. */
export interface Seen {
  stand: (typeof stands)[number];
  /** Of the time that a number must stand still, 0 to 1. */
  share: number;
  /** Why nothing is read; empty where something is. */
  why: (typeof reasons)[number];
  /** The number as it is typed, without its unit. */
  text: string;
  /** The row's corners, as shares of the place. */
  corners: [number, number][];
  /** What stood still last may still be written. */
  stood: boolean;
  /** What the frame took, ms. */
  ms: number;
}

/** The place for the display in the middle of the picture: so wide for its height. */
export const WIDE = 2;
/** Longer side of what is read, px. */
const SIDE = 640;
/** Between two frames, ms. */
const PAUSE_MS = 60;

/** What of a picture of this size lies in the place: x, y, width, height. */
export function place(width: number, height: number): [number, number, number, number] {
  const w = Math.min(width, height * WIDE);
  const h = w / WIDE;
  return [(width - w) / 2, (height - h) / 2, w, h];
}

/**
 * Reads the display until the returned function is called. `still` gives the very frame that was
 * read, while `onseen` runs; null as what is seen: it can't be read on this device.
 */
export function watchMeter(
  video: HTMLVideoElement,
  onseen: (seen: Seen | null, still: () => Promise<Blob | null>) => void,
): () => void {
  const easel = new Easel(video);
  const still = (): Promise<Blob | null> =>
    new Promise((resolve) => easel.canvas.toBlob(resolve, 'image/jpeg', QUALITY));

  return watchBy<Ask>({
    worker: new Worker(new URL('./meter.worker.ts', import.meta.url), { type: 'module' }),
    video,
    pause: PAUSE_MS,
    ask: (width, height) => {
      const within = place(width, height);
      const frame = easel.cut(within, Math.min(1, SIDE / within[2]));
      return [{ frame, at: performance.now() }, [frame]];
    },
    onanswer: (answer) => onseen(answer && seenOf(answer, easel.canvas), still),
  });
}

export function seenOf({ figures, ms }: Answer, size: Size): Seen {
  const [stand = 0, share = 0, why = 0, letters = 0] = figures;
  return {
    stand: stands[stand] ?? 'nothing',
    share,
    why: reasons[why] ?? 'none',
    text: String.fromCodePoint(...figures.slice(12, 12 + letters)),
    corners: letters > 0 ? shares(figures.slice(4, 12), size) : [],
    stood: figures[20] === 1,
    ms,
  };
}
