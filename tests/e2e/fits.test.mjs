// Every main screen in the languages and sizes that a technician may have: nothing lies beyond the
// edge, nothing is cut off, and what is pressed is large enough for a thumb.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

/** Common practice of gloved hands, no published source: at the thumb, and elsewhere. */
const THUMB_PX = 64;
const ELSEWHERE_PX = 48;

const MODES = [
  { name: 'a small phone', size: [360, 740] },
  { name: 'gloves', size: [412, 915], settings: { glove: true } },
  { name: 'lying on its side, left hand', size: [915, 412], settings: { hand: 'left' } },
  { name: 'letters of 200 %', size: [412, 915], letters: '200%' },
];

for (const language of ['en', 'de']) {
  test(`the main screens fit in ${language}`, async (t) => {
    const hub = await Hub.start(t, { demo: true });
    const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
    const of = (plate) => jobs.find((job) => job.title.startsWith(plate)).id;
    const [done, decide, taken] = [of('DEMO 101'), of('DEMO 202'), of('DEMO 303')];
    const patch = (await hub.job(decide)).photos.find(({ subject }) => subject === 'patch').entry;
    const places = [
      '/',
      '/more',
      '/settings',
      `/job/${taken}`,
      `/job/${taken}/step/covers-off`,
      `/job/${taken}/step/drained`,
      `/job/${taken}/step/pan-bolts`,
      `/job/${taken}/camera/secured/patch`,
      `/job/${decide}/photo/${patch}`,
      `/job/${done}/pan`,
      `/job/${done}/bench`,
      `/job/${done}/more`,
    ];
    const { settings } = await hub.call({ do: 'settings' });
    const phone = await Phone.open(t, hub, { name: `fits-${language}` });
    const { page } = phone;
    for (const { name, size, settings: over = {}, letters = '' } of MODES) {
      await t.test(name, async () => {
        await hub.call({ do: 'save_settings', settings: { ...settings, language, ...over } });
        await page.setViewportSize({ width: size[0], height: size[1] });
        // From the list the app would go on to where the technician stood.
        await page.goto(`${hub.origin}/#/more`);
        await page.reload();
        await phone.at('/more');
        await page.evaluate((letters) => (document.documentElement.style.fontSize = letters), letters);
        const wrong = [];
        for (const place of places) {
          await phone.at(place);
          // Its last key comes with what the guide sees.
          if (place.includes('/camera/')) await page.locator('.out button').first().waitFor();
          const found = await page.evaluate(judge, [THUMB_PX, ELSEWHERE_PX]);
          wrong.push(...found.map((what) => `${place}: ${what}`));
        }
        assert.deepEqual(wrong, []);
      });
    }
  });
}

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
