/** Frames of the running camera to a worker, one at a time, and its answers back. */
import type { Answer, Sheet } from './wasm';

/** Cuts pieces out of a video, each onto the same canvas. */
export class Easel {
  readonly canvas = document.createElement('canvas');
  private readonly pen = this.canvas.getContext('2d', { willReadFrequently: true });

  constructor(private readonly video: HTMLVideoElement) {}

  /** A piece of the picture, px, made `scale` times as large. */
  cut([x, y, w, h]: readonly [number, number, number, number], scale: number): Sheet {
    const width = Math.max(1, Math.round(w * scale));
    const height = Math.max(1, Math.round(h * scale));
    const { canvas, pen } = this;
    if (canvas.width !== width) canvas.width = width;
    if (canvas.height !== height) canvas.height = height;
    pen?.drawImage(this.video, x, y, w, h, 0, 0, width, height);
    const rgba = pen?.getImageData(0, 0, width, height).data.buffer ?? new ArrayBuffer(0);
    return { rgba, width, height };
  }
}

interface Watched<Ask> {
  worker: Worker;
  video: HTMLVideoElement;
  /** Between two frames, ms. */
  pause: number;
  /** What is asked of a frame of this size, px, with the pixels that go over to the worker. */
  ask: (width: number, height: number) => [Ask, Sheet[]];
  /** Null once the worker can't answer at all. */
  onanswer: (answer: Answer | null) => void;
}

/** Asks until the returned function is called. */
export function watchBy<Ask>({ worker, video, pause, ask, onanswer }: Watched<Ask>): () => void {
  let timer = 0;
  let gone = false;
  const later = (): void => void (timer = window.setTimeout(look, pause));

  function look(): void {
    if (gone) return;
    const { videoWidth, videoHeight } = video;
    if (!videoWidth || !videoHeight || document.hidden) return later();
    const [asked, sheets] = ask(videoWidth, videoHeight);
    worker.postMessage(
      asked,
      sheets.map(({ rgba }) => rgba),
    );
  }

  worker.onmessage = ({ data }: MessageEvent<Answer | null>) => {
    if (gone) return;
    onanswer(data);
    if (data) later();
  };
  worker.onerror = () => onanswer(null);
  look();
  return () => {
    gone = true;
    clearTimeout(timer);
    worker.terminate();
  };
}

/** Corners that stand among the core's figures as x, y in px, as shares of the frame. */
export function shares(corners: readonly number[], { width, height }: Size): [number, number][] {
  const points: [number, number][] = [];
  for (let at = 0; at + 1 < corners.length; at += 2) {
    points.push([(corners[at] ?? 0) / width, (corners[at + 1] ?? 0) / height]);
  }
  return points;
}

/** Of a frame, px. */
export interface Size {
  width: number;
  height: number;
}
