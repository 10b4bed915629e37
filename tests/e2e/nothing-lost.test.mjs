// The hub is killed without warning: what was written stays, what was half typed stays, the screen stays.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { takenIn } from './support/facts.mjs';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const HALF = 'It bangs into second when it is wa';

test('kill -9 in the middle of a job, and the screen comes back as it was', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 202');
  const phone = await Phone.open(t, hub, { name: 'nothing-lost' });
  const { page } = phone;
  await phone.tap(page.getByRole('button', { name: /^TEST 202/ }));
  const field = page.getByRole('textbox', { name: "In the customer's words" });
  await field.waitFor();
  await phone.type("In the customer's words", HALF);
  await phone.key('When does it show?', 'hot');
  await phone.until(async () => {
    const kept = (await hub.job(id)).drafts.complaint ?? '';
    return kept.includes(HALF) && kept.includes('hot');
  }, 'the half-typed complaint reaches the store');
  const before = await hub.job(id);
  const screen = await seen(page);

  await hub.kill();
  // Gone while one works: it is said at the thumb, and what is typed stays.
  await phone.press('Write the complaint');
  assert.match(await phone.trouble(), /The store does not answer\..*Nothing typed is lost\./);
  assert.equal(await field.inputValue(), HALF);
  await phone.shot('hub-gone');

  await hub.serve();
  assert.deepEqual(await hub.job(id), before, 'the job is the same');
  await page.reload();
  await field.waitFor();
  assert.deepEqual(await seen(page), screen, 'the screen is the same');
  assert.equal(await field.inputValue(), HALF);
  await phone.shot('back-again');

  // And one goes on where one stood.
  await phone.press('Write the complaint');
  await phone.wanted('A code, or “No codes set”');
  assert.equal((await hub.job(id)).complaint.words, HALF);

  // Opened anew, as after the phone was off: the same place, without an address of its own.
  const place = new URL(page.url()).hash;
  await page.goto(hub.address);
  await phone.wanted('A code, or “No codes set”');
  assert.equal(new URL(page.url()).hash, place);
  assert.deepEqual([...phone.strangers], []);
});

test('each line that the hub answered for is there after kill -9', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 203');
  const answered = [];
  const cut = 40;
  // Notes one after another, the hub killed while one of them is on its way.
  for (let n = 0; answered.length === n; n += 1) {
    const fact = { fact: 'noted', step: 'complaint', topic: null, text: `note ${n}`, private: false };
    const writing = hub.write(id, fact);
    if (n === cut) hub.child.kill('SIGKILL');
    await writing.then(({ entry }) => answered.push(entry)).catch(() => undefined);
  }
  assert.ok(answered.length >= cut);
  await hub.kill();
  await hub.serve();
  const { lines } = await hub.call({ do: 'log', job: id });
  const there = new Set(lines.map((line) => line.entry));
  assert.deepEqual(answered.filter((entry) => !there.has(entry)), []);
  await hub.write(id, { fact: 'noted', step: 'complaint', topic: null, text: 'on', private: false });
});

test('the page goes right after the last letter, and the letter is there again', async (t) => {
  const hub = await Hub.start(t);
  await takenIn(hub, 'TEST 204');
  const phone = await Phone.open(t, hub, { name: 'last-letter' });
  const { page } = phone;
  await phone.tap(page.getByRole('button', { name: /^TEST 204/ }));
  await phone.type("In the customer's words", HALF);
  await page.reload();
  const field = page.getByRole('textbox', { name: "In the customer's words" });
  await field.waitFor();
  assert.equal(await field.inputValue(), HALF);
});

/** What the technician sees of where the job stands. */
async function seen(page) {
  return {
    title: await page.locator('header').innerText(),
    stages: await page.getByRole('navigation', { name: 'Stages' }).getByRole('button').evaluateAll(
      (knots) => knots.map((knot) => knot.getAttribute('aria-label') ?? knot.textContent),
    ),
    sheet: await page.locator('main').innerText(),
    chosen: await page.locator('[aria-pressed=true]').allInnerTexts(),
    next: await page.getByTestId('next').innerText(),
  };
}
