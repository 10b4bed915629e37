/** The camera over a meter's display, in place of the number keys. */
import type { DisplayUnit } from '../door/types/DisplayUnit';
import { draft } from '../state/draft.svelte';
import { say } from '../words';

/** What stood still and waits to be written. */
export interface Offered {
  /** As the display shows it, without its unit. */
  text: string;
  /** The frame that it was read in. */
  still: Blob;
}

const isOpen = (text: string): boolean => text === 'OL';

/** As it would be typed: what is open has no unit. */
const typedAs = (text: string, unit: DisplayUnit): string =>
  isOpen(text) ? text : `${text}${unit.typed}`;

/** As the technician sees it. */
export const shownAs = (text: string, unit: DisplayUnit | undefined): string =>
  isOpen(text) || !unit ? text : `${text} ${unit.symbol}`;

export class ByDisplay {
  open = $state(false);
  /** The camera or the reading can't be had here. */
  unable = $state(false);
  offered = $state.raw<Offered | null>(null);
  /** Chosen once by the technician for like parts and a meter: never guessed. */
  private chosen = draft<Record<string, string>>('display units', {});

  /**
   * `units`: those that a display shows this in; `like`: what a chosen one holds for; `last`: the
   * one of such in the shop's last job.
   */
  constructor(
    readonly units: readonly DisplayUnit[],
    private readonly like: () => string,
    private readonly last: () => string | undefined,
  ) {}

  get unit(): DisplayUnit | undefined {
    const symbol = this.chosen.value[this.like()] ?? this.last();
    return this.units.length === 1
      ? this.units[0]
      : this.units.find((unit) => unit.symbol === symbol);
  }

  choose = (symbol: string): void => {
    this.chosen.value = { ...this.chosen.value, [this.like()]: symbol };
  };

  close = (): void => {
    [this.open, this.unable, this.offered] = [false, false, null];
  };

  /** What the bar offers while the camera reads; null while numbers are typed. */
  next(run: () => unknown): { label: string; ready: boolean; run: () => unknown } | null {
    if (!this.open || this.unable) return null;
    if (!this.unit) return { label: say('readings-display-unit-first'), ready: false, run };
    const label = this.offered
      ? say('readings-display-write', { value: shownAs(this.offered.text, this.unit) })
      : say('readings-display-hold');
    return { label, ready: this.offered !== null, run };
  }

  /** Written as it was seen, by `write`, with the frame that shows it. */
  async keep(write: (typed: string, frame: Blob) => Promise<boolean>): Promise<void> {
    if (!this.offered || !this.unit) return;
    const { text, still } = this.offered;
    if (await write(typedAs(text, this.unit), still)) this.offered = null;
  }
}
