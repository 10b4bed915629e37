import { test } from 'node:test';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';
test('shots', { timeout: 300000 }, async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const of = (plate) => jobs.find((job) => job.title.startsWith(plate)).id;
  const [done, decide, taken] = [of('DEMO 101'), of('DEMO 202'), of('DEMO 303')];
  const photos = (await hub.job(decide)).photos;
  const patch = photos.find(({ subject }) => subject === 'patch').entry;
  const pan = photos.find(({ subject }) => subject === 'pan').entry;
  const { settings } = await hub.call({ do: 'settings' });
  const phone = await Phone.open(t, hub, { name: 'shots' });
  const { page } = phone;
  for (const [mode, over] of [['dim', { paper: 'bay' }], ['day', { paper: 'desk' }], ['glove', { paper: 'bay', glove: true }]]) {
    await hub.call({ do: 'save_settings', settings: { ...settings, ...over } });
    await page.setViewportSize({ width: 412, height: 915 });
    await page.goto(`${hub.origin}/#/more`); await page.reload(); await phone.at('/more');
    for (const [name, place] of [['more', '/more'], ['settings', '/settings'], ['list', '/'], ['patch', `/job/${decide}/photo/${patch}`], ['pan', `/job/${decide}/pan`], ['job', `/job/${decide}`], ['bench', `/job/${done}/bench`], ['jobmore', `/job/${done}/more`], ['step', `/job/${taken}/step/drained`]]) {
      await phone.at(place); await page.waitForTimeout(700);
      await page.screenshot({ path: `/tmp/shots/${mode}-${name}.png` });
    }
  }
});
