/** Live guidance: frames of the running camera to the worker, its answers back. Loaded with the camera only. */
import type { PhotoSubject } from '../door/types/PhotoSubject';
import { Easel, shares, watchBy, type Size } from './frames';
import type { Ask } from './guide.worker';
import type { Answer } from './wasm';

export const advices = ['good', 'dark', 'glare', 'no_card', 'tilted', 'far', 'blurred'] as const;
export type Advice = (typeof advices)[number];

export interface Seen {
  advice: Advice;
  tilt: number;
  /** The phone's edge to lift, degrees clockwise from its upper one. */
  lift: number;
  pxPerMm: number;
  /** The card's corners, each as shares of the frame's width and height; none without a card. */
  corners: [number, number][];
  /** What one frame took, ms. */
  ms: number;
}

/** The edges of the phone as it is held, clockwise. */
export const edges = ['top', 'right', 'bottom', 'left'] as const;

/** Photos that are counted want the card; of others there is nothing to say. */
export function guided(subject: PhotoSubject): boolean {
  return ['patch', 'patch_after_magnet', 'pan', 'magnet'].includes(subject);
}

/** Longer side of a frame that is judged, px: the card is found, and a phone is not warmed. */
const FRAME_SIDE = 960;
/** Side of the cut that the sharpness is judged on, px of the photo. */
const DETAIL_SIDE = 480;
/** Between two frames, ms. */
const PAUSE_MS = 120;

/** Watches the video until the returned function is called. */
export function watch(video: HTMLVideoElement, onseen: (seen: Seen | null) => void): () => void {
  const [whole, part] = [new Easel(video), new Easel(video)];
  /** Where the card was last, as shares of the frame: there is print to be sharp. */
  let centre: [number, number] = [0.5, 0.5];

  return watchBy<Ask>({
    worker: new Worker(new URL('./guide.worker.ts', import.meta.url), { type: 'module' }),
    video,
    pause: PAUSE_MS,
    ask: (w, h) => {
      const photoSide = Math.max(w, h);
      const frame = whole.cut([0, 0, w, h], Math.min(1, FRAME_SIDE / photoSide));
      const side = Math.min(DETAIL_SIDE, w, h);
      const at = (share: number, all: number) =>
        Math.max(0, Math.min(all - side, share * all - side / 2));
      const detail = part.cut([at(centre[0], w), at(centre[1], h), side, side], 1);
      return [{ frame, detail, photoSide }, [frame, detail]];
    },
    onanswer: (answer) => {
      const seen = answer && seenOf(answer, whole.canvas);
      const corners = seen?.corners ?? [];
      if (corners.length > 0) {
        const mean = (axis: 0 | 1) =>
          corners.reduce((sum, one) => sum + one[axis], 0) / corners.length;
        centre = [mean(0), mean(1)];
      }
      onseen(seen);
    },
  });
}

export function seenOf({ figures, ms }: Answer, size: Size): Seen {
  const [advice = 0, tilt = 0, pxPerMm = 0, , , , card = 0] = figures;
  return {
    advice: advices[advice] ?? 'no_card',
    tilt,
    lift: figures[15] ?? 0,
    pxPerMm,
    corners: card === 1 ? shares(figures.slice(7, 15), size) : [],
    ms,
  };
}
