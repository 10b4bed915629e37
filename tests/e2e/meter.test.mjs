// A meter before the camera: the core reads its display as WebAssembly, and one press writes the number.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { test } from 'node:test';
import { check } from './support/axe.mjs';
import { filmOfFrames } from './support/camera.mjs';
import { limits, SETTINGS, solenoid, takenIn } from './support/facts.mjs';
import { misfits } from './support/fits.mjs';
import { Hub } from './support/hub.mjs';
import { DEMO, Phone } from './support/phone.mjs';

/** Displays that nothing learned from, drawn with what they show: `core/display/tests/photos.rs`. */
const DISPLAYS = join(DEMO, '../../display/tests/photos');
const METER = { name: 'Workshop meter', percent: 0.9, counts: 2 };
/** A reading by the display: the camera opened, or the unit chosen, and written. */
const MOST_TAPS = 2;

/** Two solenoids of 20 to 30 ohm; the step that reads them. */
async function atTheBench(hub, plate, over = {}) {
  const id = await takenIn(hub, plate);
  await hub.call({
    do: 'save_settings',
    settings: { ...SETTINGS, meter: METER, ...over },
  });
  for (const name of ['Solenoid A', 'Solenoid B']) {
    const { entry } = await hub.write(id, solenoid(name));
    const { spec, ...fact } = limits(entry);
    await hub.write(id, {
      ...fact,
      spec: { ...spec, low: 20, high: 30, at_c: null },
    });
  }
  return { id, path: `/job/${id}/step/resistance` };
}

async function opened(phone, hub, path) {
  await phone.page.goto(`${hub.origin}/#${path}`);
  await phone.press('Go on, leads not known');
  await phone.tap(phone.button('Read the meter'));
}

test('a number that stands still is shown large, and one press writes it', async (t) => {
  const hub = await Hub.start(t);
  const { id, path } = await atTheBench(hub, 'TEST 501');
  const camera = filmOfFrames(t, [join(DISPLAYS, '7020.jpg')]);
  const phone = await Phone.open(t, hub, { name: 'meter', camera });
  const { page } = phone;
  let fetched = 0;
  page.on('request', (request) => (fetched += request.url().endsWith('/meter.wasm') ? 1 : 0));
  await page.goto(`${hub.origin}/#${path}`);
  await phone.press('Go on, leads not known');
  assert.equal(fetched, 0, 'the reading is not loaded before the camera');
  let from = phone.taps;
  await phone.tap(phone.button('Read the meter'));
  await page.getByText('25.5').first().waitFor({ timeout: 120_000 });
  await phone.wanted('Which unit does the display show?');
  await phone.shot('unit');
  await phone.key('The display’s unit', 'Ω');
  await phone.press('Write 25.5 Ω', 120_000);
  // Chosen once: the unit is not a part of a reading.
  assert.ok(phone.taps - from - 1 <= MOST_TAPS, `${phone.taps - from - 1} taps`);
  const result = page.getByRole('region', { name: 'Solenoid A' });
  await result.locator('[data-call=good]').getByText('in spec').waitFor();

  // The next part is in hand, its unit known; nothing is written of it without a press.
  await phone.shot('written');
  const job = await hub.job(id);
  const [a, b] = job.components;
  assert.equal(b.readings.length, 0);
  const [reading] = a.readings;
  assert.equal(reading.verdict, 'in_spec');
  const photo = job.photos.find(({ entry }) => entry === reading.display);
  assert.equal(photo.subject, 'display');
  assert.equal(job.photos.length, 1);

  // Looked away and back, it is a number of the next part: one press.
  from = phone.taps;
  await phone.tap(phone.button('Number keys'));
  await phone.tap(phone.button('Read the meter'));
  await phone.press('Write 25.5 Ω', 120_000);
  assert.ok(phone.taps - from - 1 <= MOST_TAPS);
  await phone.until(
    async () => (await hub.job(id)).components[1].readings.length === 1,
    'B is read',
  );
  // All is read: the camera is closed.
  await page.getByTestId('meter').waitFor({ state: 'detached' });
  phone.quiet();
});

test('a number that changes is not offered', async (t) => {
  const hub = await Hub.start(t);
  const { id, path } = await atTheBench(hub, 'TEST 502');
  const frames = ['7020', '7013'].flatMap((name) => Array(12).fill(join(DISPLAYS, `${name}.jpg`)));
  const phone = await Phone.open(t, hub, {
    name: 'meter-jumps',
    camera: filmOfFrames(t, frames),
  });
  const { page } = phone;
  await opened(phone, hub, path);
  await phone.key('The display’s unit', 'Ω');
  const seen = new Set();
  const end = Date.now() + 8000;
  while (Date.now() < end || (seen.size < 2 && Date.now() < end + 60_000)) {
    const text = await page.getByTestId('meter').innerText();
    for (const number of ['25.5', '92.7']) if (text.includes(number)) seen.add(number);
    assert.ok(!(await page.getByTestId('shown').innerText()).trim(), text);
    assert.match(await phone.next.innerText(), /Hold the display/);
  }
  assert.equal(seen.size, 2, 'both are read');
  assert.equal((await hub.job(id)).photos.length, 0);
  phone.quiet();
});

for (const [language, keys] of [
  ['en', ['Go on, leads not known', 'Read the meter']],
  ['de', ['Weiter, Leitungen unbekannt', 'Messgerät ablesen']],
]) {
  test(`it fits a small phone, and keeps the rules, in ${language}`, async (t) => {
    const hub = await Hub.start(t);
    const camera = filmOfFrames(t, [join(DISPLAYS, '7020.jpg')]);
    const { id, path } = await atTheBench(hub, 'TEST 503', { language });
    const { settings } = await hub.call({ do: 'settings' });
    const phone = await Phone.open(t, hub, {
      name: `meter-${language}`,
      camera,
    });
    const { page } = phone;
    for (const [paper, glove, size] of [
      ['bay', false, [360, 740]],
      ['desk', false, [412, 915]],
      ['bay', true, [412, 915]],
    ]) {
      await hub.call({
        do: 'save_settings',
        settings: { ...settings, paper, glove },
      });
      await page.setViewportSize({ width: size[0], height: size[1] });
      await page.goto(`${hub.origin}/#/more`);
      await page.reload();
      await phone.at(path);
      await phone.press(keys[0]);
      await phone.tap(phone.button(keys[1]));
      await page.getByText('25.5').first().waitFor({ timeout: 120_000 });
      await phone.shot(`${paper}-${size[0]}${glove ? '-gloves' : ''}`);
      assert.deepEqual(await misfits(page), [], `${paper} ${size}`);
      await check(t, page, `meter, ${paper}`);
    }
    assert.equal((await hub.job(id)).photos.length, 0);
    phone.quiet();
  });
}
