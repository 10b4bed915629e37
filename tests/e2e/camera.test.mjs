// Live guidance: the core as WebAssembly beside the camera, the shutter by itself and when told.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { test } from 'node:test';
import { filmOf } from './support/camera.mjs';
import { takenIn } from './support/facts.mjs';
import { Hub } from './support/hub.mjs';
import { DEMO, Phone } from './support/phone.mjs';

const told = (page, advice) =>
  page.locator(`[data-testid=guidance][data-advice=${advice}]`).waitFor({ timeout: 120_000 });

test('a good picture is taken by itself, and looked at with what was read in it', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 401');
  // Nearly level: the renderer's truth says 2.95 degrees and 19.381 px per mm at
  // 3264 px; the demo's copy is 2200 px wide.
  const camera = filmOf(t, join(DEMO, 'patch-06.jpg'));
  const phone = await Phone.open(t, hub, { name: 'camera-good', camera });
  const { page } = phone;
  let fetched = 0;
  page.on('request', (request) => (fetched += request.url().endsWith('/guide.wasm') ? 1 : 0));
  await page.goto(`${hub.origin}/#/job/${id}/step/patch`);
  await phone.offered('Photo: The patch');
  assert.equal(fetched, 0, 'the guidance is not loaded before the camera');
  await phone.press('Photo: The patch');
  await told(page, 'good');
  await phone.shot('good');
  const said = await page.getByTestId('guidance').innerText();
  const [, tilt, scale] = /(\d+)° tilt, (\d+) px\/mm/.exec(said.replaceAll('\n', ' ')) ?? [];
  assert.ok(Math.abs(tilt - 2.95) <= 3, said);
  assert.ok(Math.abs(scale / (19.381 * 2200 / 3264) - 1) < 0.06, said);
  const taps = phone.taps;
  await phone.read();
  assert.equal(phone.taps, taps, 'nobody pressed the shutter');
  assert.equal(fetched, 1);
  assert.equal((await hub.job(id)).photos.length, 1);
  await phone.shot('read');
  // Taken again in one press.
  await phone.tap(page.getByRole('button', { name: 'Take it again' }).first());
  await told(page, 'good');
  phone.quiet();
});

test('a tilted picture says so and waits; the technician takes it all the same', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 402');
  // The renderer's truth: 23 degrees.
  const camera = filmOf(t, join(DEMO, 'patch-10.jpg'));
  const phone = await Phone.open(t, hub, { name: 'camera-tilted', camera });
  const { page } = phone;
  await page.goto(`${hub.origin}/#/job/${id}/camera/patch/patch`);
  await told(page, 'tilted');
  await phone.shot('tilted');
  await page.waitForTimeout(3000);
  assert.equal((await hub.job(id)).photos.length, 0, 'not by itself');
  await phone.press('Take the photo');
  await phone.read();
  assert.equal((await hub.job(id)).photos.length, 1);
  phone.quiet();
});
