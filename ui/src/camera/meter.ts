/** A meter before the camera: frames to the worker one at a time, its answers back. */
import { QUALITY } from './live';
import type { Answer, Ask } from './meter.worker';

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
  const worker = new Worker(new URL('./meter.worker.ts', import.meta.url), { type: 'module' });
  const easel = document.createElement('canvas');
  const pen = easel.getContext('2d', { willReadFrequently: true });
  let timer = 0;
  let gone = false;

  const still = (): Promise<Blob | null> =>
    new Promise((resolve) => easel.toBlob(resolve, 'image/jpeg', QUALITY));

  function look(): void {
    if (gone) return;
    const { videoWidth, videoHeight } = video;
    if (!videoWidth || !videoHeight || document.hidden) {
      timer = window.setTimeout(look, PAUSE_MS);
      return;
    }
    const [x, y, w, h] = place(videoWidth, videoHeight);
    const scale = Math.min(1, SIDE / w);
    const width = Math.max(1, Math.round(w * scale));
    const height = Math.max(1, Math.round(h * scale));
    if (easel.width !== width) easel.width = width;
    if (easel.height !== height) easel.height = height;
    pen?.drawImage(video, x, y, w, h, 0, 0, width, height);
    const rgba = pen?.getImageData(0, 0, width, height).data.buffer ?? new ArrayBuffer(0);
    worker.postMessage({ rgba, width, height, at: performance.now() } satisfies Ask, [rgba]);
  }

  worker.onmessage = ({ data }: MessageEvent<Answer | null>) => {
    if (gone) return;
    onseen(data && seenOf(data, easel.width, easel.height), still);
    if (data) timer = window.setTimeout(look, PAUSE_MS);
  };
  worker.onerror = () => onseen(null, still);
  look();
  return () => {
    gone = true;
    clearTimeout(timer);
    worker.terminate();
  };
}

export function seenOf({ figures, ms }: Answer, width: number, height: number): Seen {
  const [stand = 0, share = 0, why = 0, letters = 0] = figures;
  const row = letters > 0 ? figures.slice(4, 12) : [];
  const corners: [number, number][] = [];
  for (let at = 0; at + 1 < row.length; at += 2) {
    corners.push([(row[at] ?? 0) / width, (row[at + 1] ?? 0) / height]);
  }
  return {
    stand: stands[stand] ?? 'nothing',
    share,
    why: reasons[why] ?? 'none',
    text: String.fromCodePoint(...figures.slice(12, 12 + letters)),
    corners,
    stood: figures[20] === 1,
    ms,
  };
}
