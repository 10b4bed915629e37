// Every main screen in the languages and sizes that a technician may have: nothing lies beyond the
// edge, nothing is cut off, and what is pressed is large enough for a thumb.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { misfits } from './support/fits.mjs';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const MODES = [
  { name: 'a small phone', size: [360, 740] },
  { name: 'gloves', size: [412, 915], settings: { glove: true } },
  { name: 'lying on its side, left hand', size: [915, 412], settings: { hand: 'left' } },
  { name: 'letters of 200 %', size: [412, 915], letters: '200%' },
];

// The title of the first screen that is looked at, as screens.ftl of each language has it.
const MORE = { en: 'More', de: 'Mehr', es: 'Más' };

for (const language of ['en', 'de', 'es']) {
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
        assert.equal(await page.locator('h1').first().innerText(), MORE[language]);
        await page.evaluate((letters) => (document.documentElement.style.fontSize = letters), letters);
        const wrong = [];
        for (const place of places) {
          await phone.at(place);
          // Its last key comes with what the guide sees.
          if (place.includes('/camera/')) await page.locator('.out button').first().waitFor();
          const found = await misfits(page);
          wrong.push(...found.map((what) => `${place}: ${what}`));
        }
        assert.deepEqual(wrong, []);
      });
    }
  });
}
