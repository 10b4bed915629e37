/** Beside the camera: the core's own guidance on each preview frame. Frames never leave the page. */
import { loadCore } from './wasm';

interface Guide {
  memory: WebAssembly.Memory;
  frame(width: number, height: number): number;
  detail(width: number, height: number): number;
  look(photoSide: number): number;
}

export interface Sheet {
  rgba: ArrayBuffer;
  width: number;
  height: number;
}

/** One frame to look at. */
export interface Ask {
  frame: Sheet;
  /** A cut of it in the photo's own pixels. */
  detail: Sheet;
  /** Longer side of the photo that the shutter would give, px. */
  photoSide: number;
}

/** The core's figures, as `core/guide` lists them; `ms` is how long it took. */
export interface Answer {
  figures: number[];
  ms: number;
}

const FIGURES = 16;
// Without the guidance the camera works as before: whoever asks is told once.
const ready = loadCore<Guide>('guide.wasm').catch(() => {
  self.postMessage(null);
  return null;
});

self.onmessage = async ({ data }: MessageEvent<Ask>) => {
  const guide = await ready;
  if (!guide) return;
  const start = performance.now();
  const put = (at: number, { rgba }: Sheet): void =>
    new Uint8Array(guide.memory.buffer, at, rgba.byteLength).set(new Uint8Array(rgba));
  put(guide.frame(data.frame.width, data.frame.height), data.frame);
  put(guide.detail(data.detail.width, data.detail.height), data.detail);
  const out = guide.look(data.photoSide);
  const figures = [...new Float64Array(guide.memory.buffer, out, FIGURES)];
  self.postMessage({ figures, ms: performance.now() - start } satisfies Answer);
};
