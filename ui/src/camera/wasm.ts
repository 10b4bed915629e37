/** A part of the core as WebAssembly, for a worker: its file lies beside the page. Frames never leave the page. */

/** Pixels as the core takes them: RGBA, row by row. */
export interface Sheet {
  rgba: ArrayBuffer;
  width: number;
  height: number;
}

/** What the core says of a frame: its figures, as its crate lists them; `ms` is how long it took. */
export interface Answer {
  figures: number[];
  ms: number;
}

export interface Core {
  memory: WebAssembly.Memory;
  /** How many figures there are. */
  count(): number;
}

/**
 * Answers what the page asks of this worker, by the core of that file. `look` gives the place of the
 * figures. Where it can't be loaded, null is said once: what was there before works without.
 */
export function answerBy<C extends Core, Ask>(
  file: string,
  look: (core: C, ask: Ask) => number,
): void {
  const ready = load<C>(file).catch(() => {
    self.postMessage(null);
    return null;
  });
  self.onmessage = async ({ data }: MessageEvent<Ask>) => {
    const core = await ready;
    if (!core) return;
    const start = performance.now();
    const out = look(core, data);
    const figures = [...new Float64Array(core.memory.buffer, out, core.count())];
    self.postMessage({ figures, ms: performance.now() - start } satisfies Answer);
  };
}

/** Writes pixels where the core has room for them. */
export function put(core: Core, room: number, { rgba }: Sheet): void {
  new Uint8Array(core.memory.buffer, room, rgba.byteLength).set(new Uint8Array(rgba));
}

async function load<T>(name: string): Promise<T> {
  // The carriers do not know files of the page itself.
  // eslint-disable-next-line no-restricted-globals
  const answer = await fetch(new URL(name, self.location.origin + base()));
  if (!answer.ok) throw new Error(`${name}: ${answer.status}`);
  const { instance } = await WebAssembly.instantiate(await answer.arrayBuffer());
  return instance.exports as unknown as T;
}

/** The folder that holds the page: a worker's script lies in its `assets`. */
function base(): string {
  return self.location.pathname.replace(/(assets|src\/camera)\/[^/]*$/, '');
}
