/** Where the app stands: the part of the address after `#`. Back is the browser's back. */

export interface Route {
  /** First word of the path: jobs, job, settings, sync, procedures. */
  screen: string;
  /** The job, on its screens. */
  job: string;
  /** What of the job: nothing for the step in hand, else a screen and its arguments. */
  place: string[];
}

export function parse(hash: string): Route {
  const path = hash.replace(/^#\/?/, '');
  const [screen = '', job = '', ...place] = path.split('/').map(decodeURIComponent);
  return { screen: screen || 'jobs', job, place: place.filter(Boolean) };
}

export const route = $state<{ now: Route }>({ now: parse(location.hash) });

function depth(): number {
  return (history.state as { depth?: number } | null)?.depth ?? 0;
}

function follow(): void {
  route.now = parse(location.hash);
}

window.addEventListener('popstate', follow);
window.addEventListener('hashchange', follow);

/** Goes there; back comes back here. */
export function go(path: string): void {
  history.pushState({ depth: depth() + 1 }, '', `#${path}`);
  follow();
}

/** Goes there instead of here; back leads where it led before. */
export function swap(path: string): void {
  history.replaceState({ depth: depth() }, '', `#${path}`);
  follow();
}

/** Back, or to `otherwise` when the app was opened here. */
export function back(otherwise: string): void {
  if (depth() > 0) history.back();
  else swap(otherwise);
}

export function jobPath(job: string, ...place: string[]): string {
  return ['', 'job', job, ...place.map(encodeURIComponent)].join('/');
}
