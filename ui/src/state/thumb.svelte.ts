/** The one thing to press next: the open part of a screen offers it, the thumb bar shows it. */

export interface NextAction {
  /** What pressing does. */
  label: string;
  /** Why it can't be pressed yet is told by the label. */
  ready: boolean;
  run: () => unknown;
  /** The next press is meant however soon it comes, as the one that stops a watch. */
  soon?: boolean;
}

class Thumb {
  action = $state.raw<NextAction | null>(null);
}

export const thumb = new Thumb();

/** Offers what `make` says while the component that calls this is there. */
export function offerNext(make: () => NextAction | null): void {
  $effect(() => {
    const action = make();
    if (!action) return;
    thumb.action = action;
    return () => {
      if (thumb.action === action) thumb.action = null;
    };
  });
}
