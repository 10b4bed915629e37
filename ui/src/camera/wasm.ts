/** A part of the core as WebAssembly, for a worker: its file lies beside the page. */
export async function loadCore<T>(name: string): Promise<T> {
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
