/** Beside the camera: the core's own guidance on each preview frame. Frames never leave the page. */

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
const ready = load().catch(() => {
  self.postMessage(null);
  return null;
});

async function load(): Promise<Guide> {
  // The carriers do not know files of the page itself.
  // eslint-disable-next-line no-restricted-globals
  const answer = await fetch(new URL('guide.wasm', self.location.origin + base()));
  if (!answer.ok) throw new Error(`guide.wasm: ${answer.status}`);
  const { instance } = await WebAssembly.instantiate(await answer.arrayBuffer());
  return instance.exports as unknown as Guide;
}

/** The folder that holds the page: this script lies in its `assets`. */
function base(): string {
  return self.location.pathname.replace(/(assets|src\/camera)\/[^/]*$/, '');
}

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
