// The rules of axe-core on the main screens, in day (desk paper), dim (bay paper) and glove modes. Serious and critical ones fail; the rest is told.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { check } from './support/axe.mjs';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

test('the rules are at work: a key without a name is found', async (t) => {
  const hub = await Hub.start(t);
  const { page } = await Phone.open(t, hub);
  await page.setContent('<main><h1>One key</h1><button></button></main>');
  await assert.rejects(check(t, page, 'a key without a name'), /critical button-name/);
});

test('first run and the empty book', async (t) => {
  const hub = await Hub.start(t);
  const phone = await Phone.open(t, hub, { name: 'axe-empty' });
  await phone.page.getByText('A notebook for gearbox work.').waitFor();
  for (const paper of ['light', 'dark']) {
    await phone.key('Screen', paper);
    await check(t, phone.page, `first run, ${paper}`);
  }
  await phone.type('Your name, as the report gives it', 'Robin Invented');
  await phone.press('Begin');
  await phone.page.getByText('The book is empty.').waitFor();
  await check(t, phone.page, 'empty list');
});

test('the main screens in every mode', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const of = (plate) => jobs.find((job) => job.title.startsWith(plate)).id;
  const [done, decide, taken] = [of('DEMO 101'), of('DEMO 202'), of('DEMO 303')];
  const patch = (await hub.job(decide)).photos.find((photo) => photo.subject === 'patch').entry;
  const places = [
    ['list', '/'],
    ['more', '/more'],
    ['settings', '/settings'],
    ['measuring tools', '/instruments'],
    ['procedures', '/procedures'],
    ['record', '/record'],
    ['the hub', '/sync'],
    ['step in hand', `/job/${taken}`],
    ['car', `/job/${taken}/step/car`],
    ['codes', `/job/${taken}/step/codes-before`],
    ['parts off', `/job/${taken}/step/covers-off`],
    ['leave out', `/job/${taken}/skip/secured`],
    ['note', `/job/${taken}/note/secured`],
    ['job’s more', `/job/${taken}/more`],
    ['camera', `/job/${taken}/camera/secured/other`],
    ['drained', `/job/${taken}/step/drained`],
    ['counts', `/job/${decide}/step/census`],
    ['photo', `/job/${decide}/photo/${patch}`],
    ['photos', `/job/${decide}/photos`],
    ['pan', `/job/${done}/pan`],
    ['electrical parts', `/job/${done}/bench`],
    ['readings', `/job/${done}/step/resistance`],
    ['explains', `/job/${done}/step/explains`],
    ['tighten', `/job/${done}/step/pan-bolts`],
    ['parts back', `/job/${decide}/parts`],
    ['log', `/job/${done}/log`],
    ['report', `/job/${done}/report`],
  ];
  const { settings } = await hub.call({ do: 'settings' });
  const phone = await Phone.open(t, hub, { name: 'axe' });
  const { page } = phone;
  for (const [mode, paper, glove] of [
    ['dim', 'bay', false],
    ['day', 'desk', false],
    ['glove', 'bay', true],
  ]) {
    await hub.call({ do: 'save_settings', settings: { ...settings, paper, glove } });
    await page.goto(`${hub.origin}/#/`);
    await page.reload();
    await page.locator(`html[data-paper=${paper}]`).waitFor();
    for (const [name, path] of places) {
      await t.test(`${name}, ${mode}`, async (t) => {
        await phone.at(path);
        await check(t, page, name);
        await phone.shot(`${mode}-${name.replaceAll(/\W+/g, '-')}`);
      });
    }
  }
  phone.quiet();
});

test('the report by itself, as the customer opens it', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: 'DEMO 101', skip: 0, limit: 9 });
  const { html } = await hub.call({ do: 'preview_report', job: jobs[0].id });
  const phone = await Phone.open(t, hub, { name: 'axe-report' });
  await phone.page.setContent(html);
  await check(t, phone.page, 'report');
  await phone.shot('report');
});
