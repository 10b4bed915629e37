/** Live guidance: frames of the running camera to the worker, its answers back. Loaded with the camera only. */
import type { PhotoSubject } from '../door/types/PhotoSubject';
import type { Answer, Ask, Sheet } from './guide.worker';

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
  const worker = new Worker(new URL('./guide.worker.ts', import.meta.url), { type: 'module' });
  const easel = document.createElement('canvas');
  const pen = easel.getContext('2d', { willReadFrequently: true });
  /** Where the card was last, as shares of the frame: there is print to be sharp. */
  let centre: [number, number] = [0.5, 0.5];
  let timer = 0;
  let gone = false;

  /** A piece of the video, `scale` times as large. */
  function cut(x: number, y: number, w: number, h: number, scale: number): Sheet {
    const width = Math.max(1, Math.round(w * scale));
    const height = Math.max(1, Math.round(h * scale));
    if (easel.width < width) easel.width = width;
    if (easel.height < height) easel.height = height;
    pen?.drawImage(video, x, y, w, h, 0, 0, width, height);
    const rgba = pen?.getImageData(0, 0, width, height).data.buffer ?? new ArrayBuffer(0);
    return { rgba, width, height };
  }

  function look(): void {
    if (gone) return;
    const { videoWidth: w, videoHeight: h } = video;
    if (!w || !h || document.hidden) {
      timer = window.setTimeout(look, PAUSE_MS);
      return;
    }
    const photoSide = Math.max(w, h);
    const frame = cut(0, 0, w, h, Math.min(1, FRAME_SIDE / photoSide));
    const side = Math.min(DETAIL_SIDE, w, h);
    const at = (share: number, whole: number) =>
      Math.max(0, Math.min(whole - side, share * whole - side / 2));
    const detail = cut(at(centre[0], w), at(centre[1], h), side, side, 1);
    worker.postMessage({ frame, detail, photoSide } satisfies Ask, [frame.rgba, detail.rgba]);
    seenSize = [frame.width, frame.height];
  }
  let seenSize: [number, number] = [1, 1];

  worker.onmessage = ({ data }: MessageEvent<Answer | null>) => {
    if (gone) return;
    const seen = data ? seenOf(data, ...seenSize) : null;
    const corners = seen?.corners ?? [];
    if (corners.length > 0) {
      const mean = (axis: 0 | 1) =>
        corners.reduce((sum, one) => sum + one[axis], 0) / corners.length;
      centre = [mean(0), mean(1)];
    }
    onseen(seen);
    if (data) timer = window.setTimeout(look, PAUSE_MS);
  };
  worker.onerror = () => onseen(null);
  look();
  return () => {
    gone = true;
    clearTimeout(timer);
    worker.terminate();
  };
}

export function seenOf({ figures, ms }: Answer, width: number, height: number): Seen {
  const [advice = 0, tilt = 0, pxPerMm = 0, , , , card = 0, ...rest] = figures;
  const corners = rest.slice(0, 8);
  const points: [number, number][] = [];
  for (let at = 0; card === 1 && at + 1 < corners.length; at += 2) {
    points.push([(corners[at] ?? 0) / width, (corners[at + 1] ?? 0) / height]);
  }
  return {
    advice: advices[advice] ?? 'no_card',
    tilt,
    lift: rest[8] ?? 0,
    pxPerMm,
    corners: points,
    ms,
  };
}
