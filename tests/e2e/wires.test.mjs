// A part with voltage on it and its wires, by touch: written, judged, drawn; within the edges of a
// small phone, in large letters and on both papers.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { check } from './support/axe.mjs';
import { limits, SETTINGS, solenoid, takenIn } from './support/facts.mjs';
import { misfits } from './support/fits.mjs';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const METER = { name: 'Workshop meter', percent: 0.9, counts: 2 };

test('voltage on a part, and its wires', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST303');
  const settings = { ...SETTINGS, meter: METER };
  await hub.call({ do: 'save_settings', settings });
  const { entry: part } = await hub.write(id, solenoid('Solenoid A'));
  await hub.write(id, { ...limits(part), spec: { ...limits(part).spec, quantity: 'applied', at_c: null } });
  const phone = await Phone.open(t, hub, { name: 'wires' });
  const { page } = phone;

  await phone.at(`/job/${id}/step/insulation`);
  await phone.tap(page.getByRole('button', { name: /^Voltage applied: / }));
  await phone.wanted('Volts at Solenoid A');
  await phone.keys('Number keys', '12.4');
  await phone.key('Amperes read by', 'Meter in line');
  await phone.press('Now the reading');
  await phone.keys('Number keys', '0.91');
  await phone.key('Click', 'Click heard');
  await phone.shot('applied');
  await phone.press('0.91, three times alike');
  const result = page.getByRole('region', { name: 'Solenoid A' });
  await result.locator('[data-call=good]').waitFor();
  assert.match(await result.innerText(), /13\.6\d? ohm with 12\.4 V and 0\.91 A, click heard/);
  await phone.shot('applied-read');

  await phone.at(`/job/${id}/harness/${part}`);
  for (const [text, next] of [
    ['OL', 'Pin 1 to ground'],
    ['OL', 'Pin 2 to ground'],
    ['OL', 'The part, pin to pin'],
    ['12.8', 'The part, pin 1 to ground'],
    ['OL', 'The part, pin 2 to ground'],
  ]) {
    await typed(phone, text);
    await phone.press(`Next: ${next}`);
  }
  await typed(phone, 'OL');
  await phone.shot('matrix');
  await phone.press('Write: 6 numbers');
  await page.getByText('first wire: open, or the other wire is').waitFor();
  await phone.tap(page.getByRole('button', { name: /^Wire of pin 1/ }));
  await typed(phone, '0.2');
  await phone.press('Write: 7 numbers');
  await page.getByText('second wire: open').waitFor();
  await phone.offered('Electrical parts');
  const { components } = await hub.job(id);
  assert.deepEqual(components[0].harness.wires.map((one) => one.call), ['sound', 'open']);

  const places = [`/job/${id}/harness/${part}`, `/job/${id}/bench`, `/job/${id}/step/insulation`];
  for (const [mode, paper, letters, size] of [
    ['small', 'bay', '', [360, 740]],
    ['large', 'desk', '200%', [412, 915]],
    ['day', 'desk', '', [412, 915]],
  ]) {
    await hub.call({ do: 'save_settings', settings: { ...settings, paper } });
    await page.setViewportSize({ width: size[0], height: size[1] });
    await page.goto(`${hub.origin}/#/more`);
    await page.reload();
    await page.locator(`html[data-paper=${paper}]`).waitFor();
    await page.evaluate((letters) => (document.documentElement.style.fontSize = letters), letters);
    for (const place of places) {
      await t.test(`${place.split('/').at(3)}, ${mode}`, async (t) => {
        await phone.at(place);
        if (place.endsWith('insulation')) {
          await phone.tap(page.getByRole('button', { name: /^Voltage applied: / }));
          await phone.group('Amperes read by').waitFor();
        }
        assert.deepEqual(await misfits(page), []);
        await check(t, page, place);
        await phone.shot(`${mode}-${place.split('/').at(3)}`);
      });
    }
  }
  phone.quiet();
});

async function typed(phone, text) {
  if (text === 'OL') await phone.tap(phone.group('Number keys').getByRole('button', { name: /open|OL/i }));
  else await phone.keys('Number keys', text);
}
