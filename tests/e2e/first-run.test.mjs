// The first run, from the app's opening to the empty book, at the pace of a person who sees it for
// the first time: name, shop, units, paper, hand, and the card to print.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

/** How long it may take, in seconds. */
const MOST = 60;

// Assumed of a person, not measured on one; said with the result.
const PACE = {
  /** Finding a key and pressing it, seconds. */
  tap: 1.5,
  /** A letter on the phone's own keyboard, seconds: 48 words a minute at five letters a word. */
  letter: 0.25,
  /** Reading a word, seconds: 240 words a minute. */
  word: 0.25,
};

test('the first run takes less than a minute', async (t) => {
  const hub = await Hub.start(t);
  const begun = performance.now();
  const phone = await Phone.open(t, hub, { name: 'first-run' });
  const { page } = phone;
  const person = new Person(phone);

  await page.getByText('A notebook for gearbox work.').waitFor();
  await person.reads();
  await person.types('Your name, as the report gives it', 'Robin Invented');
  await person.types("The shop's name", 'Invented Driveline Shop');
  await person.presses(phone.group('Which units?').getByRole('button').nth(1));
  await person.presses(phone.button('light', phone.group('Screen')));
  await person.presses(phone.button('Left', phone.group('Which thumb works?')));
  const arrives = page.waitForEvent('download');
  await person.presses(phone.button('The gauge card, to print'));
  const card = await arrives;
  await phone.offered('Begin');
  await person.presses(phone.next);
  await page.getByText('The book is empty.').waitFor();
  await phone.offered('New job');
  const took = (performance.now() - begun) / 1000;

  t.diagnostic(
    `${took.toFixed(1)} s: ${phone.taps} taps at ${PACE.tap} s, ${phone.typed} letters at ${PACE.letter} s, ` +
      `${person.read} words at ${PACE.word} s, the rest is the machine's (a debug build)`,
  );
  assert.ok(took < MOST, `${took} s`);
  assert.ok(readFileSync(await card.path()).subarray(0, 5).equals(Buffer.from('%PDF-')), 'a card');
  const { settings } = await hub.call({ do: 'settings' });
  assert.equal(settings.technician, 'Robin Invented');
  assert.equal(settings.shop, 'Invented Driveline Shop');
  assert.equal(settings.paper, 'desk');
  assert.equal(settings.hand, 'left');
  assert.equal(settings.units.distance, 'mile');
  phone.quiet();
});

/** The thumb, no faster than a person's. */
class Person {
  constructor(phone) {
    this.phone = phone;
    this.read = 0;
  }

  /** All words that the screen shows. */
  async reads() {
    const text = await this.phone.page.locator('body').innerText();
    this.read += text.split(/\s+/).filter(Boolean).length;
    await this.waits(this.read * PACE.word);
  }

  async presses(locator) {
    await this.waits(PACE.tap);
    await this.phone.tap(locator);
  }

  async types(label, text) {
    await this.presses(this.phone.page.getByRole('textbox', { name: label, exact: true }));
    await this.phone.page.keyboard.type(text, { delay: PACE.letter * 1000 });
    this.phone.typed += text.length;
  }

  waits(seconds) {
    return this.phone.page.waitForTimeout(seconds * 1000);
  }
}
