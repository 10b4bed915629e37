// What can't be right, entered through the screens: it is said at the thumb, and nothing typed is lost.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { crc32, deflateSync } from 'node:zlib';
import { limits, solenoid, takenIn } from './support/facts.mjs';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const HALF = 'It shudders when pulling aw';

test('files that are no photos', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 301');
  const phone = await Phone.open(t, hub, { name: 'bad-photo' });
  const { page } = phone;
  await phone.tap(page.getByRole('button', { name: /^TEST 301/ }));
  await phone.type("In the customer's words", HALF);

  const files = [
    ['a text file', 'notes.jpg', Buffer.from('bolts: 4, brace left\n'.repeat(40)), /not a photo/i],
    ['an empty file', 'empty.jpg', Buffer.alloc(0), /empty/i],
    ['a PNG that says 20,000 x 20,000 px', 'huge.png', lyingPng(20_000), /20\D?000/],
    ['a JPEG cut off', 'cut.jpg', Buffer.from('ffd8ffe000104a46494600', 'hex'), /photo/i],
  ];
  for (const [what, name, buffer, words] of files) {
    await t.test(what, async () => {
      await phone.tap(phone.button('Camera'));
      await phone.offered('Take the photo');
      const mimeType = name.endsWith('png') ? 'image/png' : 'image/jpeg';
      await phone.pick({ name, mimeType, buffer });
      assert.match(await phone.trouble(), words);
      await phone.shot(what.replaceAll(/\W+/g, '-'));
      await phone.tap(phone.button('Understood'));
      await phone.offered('Take the photo');
      await phone.tap(phone.button('Back'));
      const field = page.getByRole('textbox', { name: "In the customer's words" });
      await field.waitFor();
      assert.equal(await field.inputValue(), HALF, 'what was half typed');
      assert.deepEqual((await hub.job(id)).photos, [], 'nothing was written');
    });
  }
});

test('readings that can’t be, or may not be', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 302');
  const { entry } = await hub.write(id, solenoid('Solenoid A'));
  await hub.write(id, limits(entry));
  const phone = await Phone.open(t, hub, { name: 'bad-reading' });
  const { page } = phone;
  const readings = async () => (await hub.job(id)).components[0].readings;
  await phone.tap(page.getByRole('button', { name: /^TEST 302/ }));
  await phone.step('5 Test', 'Resistance of each');

  await t.test('a negative ohm has no key, and the door refuses it', async () => {
    await phone.tap(page.getByRole('button', { name: /^Workshop meter/ }));
    await phone.press('Go on, leads not known');
    await phone.wanted('Read Solenoid A');
    const keys = phone.group('Number keys');
    assert.equal(await phone.button('plus or minus', keys).count(), 0);
    const refused = hub.write(id, reading(entry, ['-5']));
    await assert.rejects(refused, /-5/);
    assert.deepEqual(await readings(), []);
  });

  await t.test('12.5 kohm against 11 to 15 ohm is asked back', async () => {
    await phone.keys('Number keys', '12.5k'.replace('k', ''));
    await phone.key('Number keys', 'kilo');
    await phone.tap(phone.button('It moves: keep 12.5k and look again'));
    await phone.tap(phone.button('Write: 12.5k'));
    const doubt = await phone.trouble();
    assert.match(doubt, /12\.5 kohm/);
    await phone.shot('doubt');
    // The answer comes first: the line can't be sent a second time behind the question.
    assert.equal(await phone.next.isDisabled(), true);
    await phone.tap(phone.button('Change it'));
    await phone.offered('12.5k once more');
    assert.deepEqual(await readings(), [], 'not written while in doubt');
    // As a meter with a comma would be read out: the same doubt.
    await assert.rejects(hub.write(id, reading(entry, ['12,5 kΩ'])), /doubtful.*12\.5 kohm/);
    await phone.tap(phone.button('Remove sample 12.5k'));
  });

  await t.test('OL without contact shown: take it again', async () => {
    await phone.key('Number keys', 'OL');
    await phone.tap(phone.button('It moves: keep OL and look again'));
    await phone.tap(phone.button('Write: OL'));
    await page.getByText(/take (it|this) again/i).first().waitFor();
    await phone.shot('take-again');
    assert.equal((await readings())[0].verdict, 'take_again');
    // It is still the part to be read.
    await phone.wanted('Read Solenoid A');
  });

  await t.test('a negative amount of fluid, from a real keyboard', async () => {
    await phone.step('3 Drain', 'Drained');
    await phone.type('Came out', '-5');
    await phone.press('Write: -5 l');
    assert.match(await phone.trouble(), /-5/);
    await phone.shot('negative');
    await phone.tap(phone.button('Understood'));
    assert.equal(await page.getByRole('textbox', { name: 'Came out' }).inputValue(), '-5');
  });
});

test('an odometer below the last visit', async (t) => {
  const hub = await Hub.start(t);
  await takenIn(hub, 'TEST 303', 90_000);
  const phone = await Phone.open(t, hub, { name: 'bad-odometer' });
  const { page } = phone;
  await phone.press('New job');
  await phone.type('The car', 'invented estate car');
  await phone.type('Plate', 'TEST 303');
  await phone.type('Odometer', '80000');
  await phone.press('Write: TEST 303');
  assert.match(await phone.trouble(), /80\D?000 km.*90\D?000 km/);
  await phone.shot('doubt');
  await phone.tap(phone.button('Change it'));
  const field = (name) => page.getByRole('textbox', { name, exact: true });
  assert.equal(await field('Odometer').inputValue(), '80000');
  assert.equal(await field('Plate').inputValue(), 'TEST 303');
  assert.equal(await field('The car').inputValue(), 'invented estate car');
  assert.equal((await hub.call({ do: 'jobs', search: 'TEST 303', skip: 0, limit: 9 })).total, 1);

  // Still there after the screen was gone.
  await page.reload();
  await field('Odometer').waitFor();
  assert.equal(await field('Odometer').inputValue(), '80000');

  // The technician may stand by it.
  await phone.press('Write: TEST 303');
  await phone.trouble();
  await phone.tap(phone.button('Write it anyway'));
  await phone.wanted('The words first');
  assert.equal((await hub.call({ do: 'jobs', search: 'TEST 303', skip: 0, limit: 9 })).total, 2);
});

function reading(component, samples) {
  const meter = { name: 'Workshop meter', percent: 0.9, counts: 2 };
  return {
    fact: 'reading_taken',
    component,
    reading: { quantity: 'resistance', samples, leads: null, part_c: null, meter, contact_shown: false },
  };
}

/** A whole PNG in form (PNG specification, third edition), whose header promises what it hasn't. */
function lyingPng(side) {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(side, 0);
  head.writeUInt32BE(side, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const chunk = (kind, data) => {
    const body = Buffer.concat([Buffer.from(kind, 'latin1'), data]);
    const whole = Buffer.alloc(body.length + 8);
    whole.writeUInt32BE(data.length, 0);
    body.copy(whole, 4);
    whole.writeUInt32BE(crc32(body), body.length + 4);
    return whole;
  };
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const little = deflateSync(Buffer.alloc(1000));
  return Buffer.concat([
    signature,
    chunk('IHDR', head),
    chunk('IDAT', little),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}
