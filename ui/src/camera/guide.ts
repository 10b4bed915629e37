/** Live guidance: frames of the running camera to the worker, its answers back. Loaded with the camera only. */
import type { PhotoSubject } from '../door/types/PhotoSubject';
import type { Answer, Ask } from './guide.worker';

export const advices = ['good', 'dark', 'glare', 'no_card', 'tilted', 'far', 'blurred'] as const;
export type Advice = (typeof advices)[number];

export interface Seen {
  advice: Advice;
  tilt: number;
  pxPerMm: number;
  /** The card's corners, each as shares of the frame's width and height; none without a card. */
  corners: [number, number][];
  /** What one frame took, ms. */
  ms: number;
}

/** Photos that are counted want the card; of others there is nothing to say. */
export function guided(subject: PhotoSubject): boolean {
  return ['patch', 'patch_after_magnet', 'pan', 'magnet'].includes(subject);
}

/** Longer side of a frame that is judged, px: the card is found, and a phone is not warmed. */
const FRAME_SIDE = 960;
/** Between two frames, ms. */
const PAUSE_MS = 120;

/** Watches the video until the returned function is called. */
export function watch(video: HTMLVideoElement, onseen: (seen: Seen | null) => void): () => void {
  const worker = new Worker(new URL('./guide.worker.ts', import.meta.url), { type: 'module' });
  const canvas = document.createElement('canvas');
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  let timer = 0;
  let gone = false;

  function look(): void {
    if (gone || !pen) return;
    const { videoWidth, videoHeight } = video;
    if (!videoWidth || !videoHeight || document.hidden) {
      timer = window.setTimeout(look, PAUSE_MS);
      return;
    }
    const photoSide = Math.max(videoWidth, videoHeight);
    const scale = Math.min(1, FRAME_SIDE / photoSide);
    canvas.width = Math.round(videoWidth * scale);
    canvas.height = Math.round(videoHeight * scale);
    pen.drawImage(video, 0, 0, canvas.width, canvas.height);
    const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
    const rgba = data.buffer;
    const ask: Ask = { rgba, width: canvas.width, height: canvas.height, photoSide };
    worker.postMessage(ask, [rgba]);
  }

  worker.onmessage = ({ data }: MessageEvent<Answer | null>) => {
    if (gone) return;
    onseen(data ? seenOf(data, canvas.width, canvas.height) : null);
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
  const [advice = 0, tilt = 0, pxPerMm = 0, , , , card = 0, ...corners] = figures;
  const points: [number, number][] = [];
  for (let at = 0; card === 1 && at + 1 < corners.length; at += 2) {
    points.push([(corners[at] ?? 0) / width, (corners[at + 1] ?? 0) / height]);
  }
  return { advice: advices[advice] ?? 'no_card', tilt, pxPerMm, corners: points, ms };
}
