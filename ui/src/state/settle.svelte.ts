/**
 * A screen or step that has just changed takes no press yet: a thumb that was on its way down
 * meant what stood there before. One ear at the window hears every press of every screen.
 */

/** So long after a change a press does nothing: longer than a double tap, shorter than finding a key. */
export const CALM_MS = 600;

/** What rests: every key, or the bar's wide key alone. */
type Resting = 'all' | 'next';

/** A press this near to the one that made the change is the same thumb's second tap, px. */
const SAME_SPOT_PX = 80;

interface Spot {
  x: number;
  y: number;
}
/** Where the last press was that can have changed something: a digit changes nothing but its number. */
let pressed: Spot | null = null;

const until: Record<Resting, number> = { all: -Infinity, next: -Infinity };
let timer = 0;

function show(): void {
  clearTimeout(timer);
  const now = performance.now();
  const resting = now < until.all ? 'all' : now < until.next ? 'next' : null;
  const root = document.documentElement;
  if (!resting) {
    delete root.dataset.settling;
    return;
  }
  root.dataset.settling = resting;
  timer = window.setTimeout(show, until[resting] - now + 1);
}

/** What stands on the screen has changed. */
export function changed(what: Resting = 'all'): void {
  until[what] = performance.now() + CALM_MS;
  show();
}

const on = (target: EventTarget | null, selector: string): boolean =>
  target instanceof Element && target.closest(selector) !== null;

/**
 * Whether a press on this comes too soon to be meant for it. Number keys write nothing by themselves,
 * and a digit that is lost makes another number: there only a second tap on the same spot is refused.
 */
export function tooSoon(target: EventTarget | null, at: Spot | null = null): boolean {
  const now = performance.now();
  if (now >= until.all) return now < until.next && on(target, '.next');
  if (!at || !on(target, '[data-digits]')) return true;
  return !pressed || Math.hypot(at.x - pressed.x, at.y - pressed.y) < SAME_SPOT_PX;
}

/** A press on this was taken there. */
export function taken(at: Spot, target: EventTarget | null = null): void {
  if (!on(target, '[data-digits]')) pressed = at;
}

/** Watches, while the component that calls this is there, whether `what` stays the same. */
export function settleOn(what: () => unknown): void {
  let before: string | undefined;
  $effect(() => {
    const now = JSON.stringify(what());
    if (before !== undefined && before !== now) changed();
    before = now;
  });
}

/** Hears each press before any key does, until the returned function is called. */
export function hearPresses(): () => void {
  const hear = (event: MouseEvent): void => {
    // A press that a program makes, as for a download, is nobody's thumb.
    if (!event.isTrusted) return;
    const at = { x: event.clientX, y: event.clientY };
    if (!tooSoon(event.target, at)) {
      taken(at, event.target);
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
  };
  window.addEventListener('click', hear, { capture: true });
  return () => window.removeEventListener('click', hear, { capture: true });
}
