/** Keeps a scrolled sheet at its end while what is in it grows there. */

/** So near the end counts as at it, px. */
const NEAR = 120;

export function stick(scroller: HTMLElement): () => void {
  let atEnd = true;
  const look = (): void => {
    atEnd = scroller.scrollHeight - scroller.scrollTop - scroller.clientHeight < NEAR;
  };
  const keep = (): void => {
    if (atEnd) scroller.scrollTop = scroller.scrollHeight;
  };
  scroller.addEventListener('scroll', look, { passive: true });
  const watch = new ResizeObserver(keep);
  watch.observe(scroller);
  for (const child of scroller.children) watch.observe(child);
  return () => {
    scroller.removeEventListener('scroll', look);
    watch.disconnect();
  };
}
