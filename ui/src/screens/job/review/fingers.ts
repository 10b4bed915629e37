/** Fingers on the photo: two zoom, one moves what is zoomed, one that rests hides the outlines. */
import { holding, under, type View } from './view';

interface Hand {
  view: () => View | null;
  frame: () => DOMRect;
  see: (view: View) => void;
  large: () => boolean;
  hide: (on: boolean) => void;
}

/** A finger rests when it has not moved for so long, ms. */
const REST_MS = 350;
/** It moves from so far on, px. */
const STILL_PX = 8;

export class Fingers {
  private down_ = new Map<number, { x: number; y: number }>();
  private timer = 0;
  private from = { x: 0, y: 0 };
  /** What was done was no press, or began elsewhere: the click that follows it means nothing. */
  private swallowed = true;

  constructor(private hand: Hand) {}

  /** Whether the click that comes now belongs to a movement; asked once for each. */
  swallows(): boolean {
    const was = this.swallowed;
    this.swallowed = true;
    return was;
  }

  down(event: PointerEvent): void {
    this.down_.set(event.pointerId, { x: event.clientX, y: event.clientY });
    this.rest();
    if (this.down_.size === 1) {
      this.swallowed = false;
      this.from = { x: event.clientX, y: event.clientY };
      this.timer = window.setTimeout(() => {
        this.swallowed = true;
        this.hand.hide(true);
      }, REST_MS);
    } else {
      this.swallowed = true;
    }
  }

  move(event: PointerEvent): void {
    const before = this.down_.get(event.pointerId);
    const view = this.hand.view();
    if (!before || !view) return;
    const now = { x: event.clientX, y: event.clientY };
    if (this.down_.size === 1) {
      const still = Math.hypot(now.x - this.from.x, now.y - this.from.y) < STILL_PX;
      if (still && !this.swallowed) return;
      if (!still) clearTimeout(this.timer);
      if (!this.hand.large()) return;
      this.swallowed = true;
      const point = under(view, this.seen(before));
      this.hand.see(holding(view, point, this.seen(now)));
    } else {
      const others = [...this.down_].filter(([id]) => id !== event.pointerId);
      const other = others[0]?.[1];
      if (!other) return;
      const was = Math.hypot(before.x - other.x, before.y - other.y);
      const is = Math.hypot(now.x - other.x, now.y - other.y);
      const middle = { x: (before.x + other.x) / 2, y: (before.y + other.y) / 2 };
      const to = { x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 };
      const point = under(view, this.seen(middle));
      const zoom = view.zoom * (is / Math.max(1, was));
      this.hand.see(holding({ ...view, zoom }, point, this.seen(to)));
    }
    this.down_.set(event.pointerId, now);
  }

  up(event: PointerEvent): void {
    this.down_.delete(event.pointerId);
    this.rest();
  }

  private rest(): void {
    clearTimeout(this.timer);
    this.hand.hide(false);
  }

  /** From the middle of the frame, px. */
  private seen({ x, y }: { x: number; y: number }): [number, number] {
    const frame = this.hand.frame();
    return [x - frame.left - frame.width / 2, y - frame.top - frame.height / 2];
  }
}
