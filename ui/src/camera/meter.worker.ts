/** Beside the camera: the core reads the meter's display in each frame. Frames never leave the page. */
import { loadCore } from './wasm';

interface Meter {
  memory: WebAssembly.Memory;
  frame(width: number, height: number): number;
  look(ms: number): number;
}

/** One frame to read. */
export interface Ask {
  rgba: ArrayBuffer;
  width: number;
  height: number;
  /** When it was seen. */
  at: number;
}

/** The core's figures, as `core/meter` lists them; `ms` is how long it took. */
export interface Answer {
  figures: number[];
  ms: number;
}

const FIGURES = 21;
// Without it numbers are typed: whoever asks is told once.
const ready = loadCore<Meter>('meter.wasm').catch(() => {
  self.postMessage(null);
  return null;
});

self.onmessage = async ({ data }: MessageEvent<Ask>) => {
  const meter = await ready;
  if (!meter) return;
  const start = performance.now();
  const room = meter.frame(data.width, data.height);
  new Uint8Array(meter.memory.buffer, room, data.rgba.byteLength).set(new Uint8Array(data.rgba));
  const out = meter.look(data.at);
  const figures = [...new Float64Array(meter.memory.buffer, out, FIGURES)];
  self.postMessage({ figures, ms: performance.now() - start } satisfies Answer);
};
