// What a phone does to an app in the middle of a job: back, a turn on its side, a call that comes in, and
// the screens' process taken away for want of memory. The job goes on where it was.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { test } from 'node:test';
import { filmOf } from './support/camera.mjs';
import { takenIn } from './support/facts.mjs';
import { Hub } from './support/hub.mjs';
import { DEMO, Phone } from './support/phone.mjs';

const HALF = 'It shudders when it is pulling aw';
const WORDS = "In the customer's words";
const hash = (page) => new URL(page.url()).hash;

test("the phone's own back leads where the screen's does, and nothing typed is lost", async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 501');
  const phone = await Phone.open(t, hub, { name: 'back' });
  const { page } = phone;
  await phone.tap(page.getByRole('button', { name: /^TEST 501/ }));
  await phone.type(WORDS, HALF);
  const field = page.getByRole('textbox', { name: WORDS });
  await phone.until(
    async () => ((await hub.job(id)).drafts.complaint ?? '').includes(HALF),
    'the half-typed complaint reaches the store',
  );
  const job = hash(page);
  // Deeper into the job by touch, and out again by the phone's back.
  await phone.tap(page.getByRole('navigation', { name: 'Stages' }).locator('button[aria-expanded]'));
  await phone.until(() => hash(page) === `#/job/${id}/more`, 'the menu of the job');
  await page.goBack();
  await field.waitFor();
  assert.equal(hash(page), job);
  assert.equal(await field.inputValue(), HALF);
  await page.goBack();
  await page.getByRole('button', { name: /^TEST 501/ }).waitFor();
  await page.goForward();
  await field.waitFor();
  assert.equal(await field.inputValue(), HALF);
  phone.quiet();
});

test('turned on its side and back, the step and what is half typed stay', async (t) => {
  const hub = await Hub.start(t);
  await takenIn(hub, 'TEST 502');
  const phone = await Phone.open(t, hub, { name: 'turned' });
  const { page } = phone;
  await phone.tap(page.getByRole('button', { name: /^TEST 502/ }));
  await phone.type(WORDS, HALF);
  await phone.key('When does it show?', 'hot');
  const place = hash(page);
  for (const size of [
    { width: 915, height: 412 },
    { width: 412, height: 915 },
  ]) {
    await page.setViewportSize(size);
    const field = page.getByRole('textbox', { name: WORDS });
    assert.equal(await field.inputValue(), HALF);
    const chosen = phone.group('When does it show?').locator('[aria-pressed=true]');
    assert.match(await chosen.innerText(), /hot$/);
    assert.equal(hash(page), place);
    await phone.offered('Write the complaint');
  }
  phone.quiet();
});

test('a call that comes in takes the camera, and the camera is there again after it', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 503');
  const camera = filmOf(t, join(DEMO, 'patch-10.jpg'));
  const phone = await Phone.open(t, hub, { name: 'call', camera });
  const { page } = phone;
  await page.goto(`${hub.origin}/#/job/${id}/camera/patch/patch`);
  await phone.offered('Take the photo');
  const streams = () =>
    page.evaluate(() => {
      const tracks = document.querySelector('video')?.srcObject?.getTracks() ?? [];
      return tracks.map((track) => track.readyState);
    });
  assert.deepEqual(await streams(), ['live']);
  await page.evaluate(() => (window.before = document.querySelector('video').srcObject));
  await covered(page, true);
  await phone.until(async () => (await streams()).length === 0, 'the camera is given up');
  assert.deepEqual(
    await page.evaluate(() => window.before.getTracks().map((track) => track.readyState)),
    ['ended'],
  );
  await covered(page, false);
  await phone.press('Take the photo');
  await phone.read();
  assert.equal((await hub.job(id)).photos.length, 1);
  phone.quiet();
});

test("the screens' process dies for want of memory, and the app opens where it was", async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const decide = jobs.find((job) => job.title.startsWith('DEMO 202')).id;
  const patch = (await hub.job(decide)).photos.find(({ subject }) => subject === 'patch').entry;
  const phone = await Phone.open(t, hub, { name: 'memory' });
  for (const place of ['step/codes-before', `photo/${patch}`]) {
    const { page } = phone;
    await page.goto(`${hub.origin}/#/job/${decide}/${place}`);
    await phone.at(`/job/${decide}/${place}`);
    // Where one stands is on disk by then.
    await phone.until(
      async () => (await hub.call({ do: 'start' })).start.place === place,
      'the place reaches the store',
    );
    const session = await page.context().newCDPSession(page);
    const gone = new Promise((done) => page.once('crash', done));
    session.send('Page.crash').catch(() => undefined);
    await gone;
    const next = await page.context().newPage();
    await page.close();
    await next.goto(hub.address);
    await next.waitForFunction((to) => location.hash.endsWith(to), place);
    phone.page = next;
  }
});

/** What the system tells a page when another app comes in front of it, and when it goes. */
function covered(page, hidden) {
  return page.evaluate((hidden) => {
    Object.defineProperty(document, 'hidden', { configurable: true, get: () => hidden });
    const state = hidden ? 'hidden' : 'visible';
    Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => state });
    document.dispatchEvent(new Event('visibilitychange'));
  }, hidden);
}
