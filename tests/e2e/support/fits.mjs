// What of a screen lies beyond its edge, is cut off, or is too small for a thumb.

/** Common practice of gloved hands, no published source: at the thumb, and elsewhere. */
const THUMB_PX = 64;
const ELSEWHERE_PX = 48;

/** In words, one a thing; none where all fits. */
export const misfits = (page) => page.evaluate(judge, [THUMB_PX, ELSEWHERE_PX]);

/** Runs in the page: what lies beyond the edge, is cut off, or is too small to press. */
function judge([thumb, elsewhere]) {
  const wrong = [];
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth > wide)
    wrong.push(`scrolls sideways to ${document.documentElement.scrollWidth} of ${wide} px`);
  const pressed = 'button, summary, label:has(input[type=file]), a[href]';
  for (const one of document.querySelectorAll(`${pressed}, input, h1, h2, p, li`)) {
    const box = one.getBoundingClientRect();
    const style = getComputedStyle(one);
    const hidden = one.closest('.hidden-label, [hidden], [aria-hidden=true], svg');
    if (hidden || box.width === 0 || style.visibility === 'hidden') continue;
    const said = `${one.tagName.toLowerCase()} "${(one.innerText ?? '').slice(0, 30)}"`;
    if (box.right > wide + 1 || box.left < -1)
      wrong.push(`${said} reaches from ${Math.round(box.left)} to ${Math.round(box.right)}`);
    // A word that its own box can't hold is cut, or lies over its neighbour.
    if (one.scrollWidth > one.clientWidth + 1 && style.display !== 'inline' && one.matches(pressed))
      wrong.push(`${said} is ${one.scrollWidth} px wide in ${one.clientWidth}`);
    if (!one.matches(pressed)) continue;
    const least = one.closest('footer') ? thumb : elsewhere;
    if (box.height < least - 1) wrong.push(`${said} is ${Math.round(box.height)} px high`);
  }
  return wrong;
}
