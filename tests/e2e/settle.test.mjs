// A thumb that taps three times on one spot, two people at one hub, and a hub that is away while one types.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { takenIn } from './support/facts.mjs';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const HALF = 'It bangs into second when it is wa';
const WORDS = "In the customer's words";

/** Presses on one spot, as fast as a finger taps; no waiting for what the first one does. */
async function taps(page, locator, times, gap = 120) {
  const box = await locator.boundingBox();
  const spot = [box.x + box.width / 2, box.y + box.height / 2];
  for (let n = 0; n < times; n += 1) {
    await page.touchscreen.tap(...spot);
    await page.waitForTimeout(gap);
  }
}

test('three quick taps on one spot tick one step', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 601');
  for (const step of ['complaint', 'codes-before', 'go-ahead']) {
    await hub.write(id, { fact: 'step_skipped', step, reason: 'not part of this test' });
  }
  const phone = await Phone.open(t, hub, { name: 'settle' });
  await phone.tap(phone.page.getByRole('button', { name: /^TEST 601/ }));
  await phone.offered(/^Tick: Up and secured/);
  await phone.settled();
  await taps(phone.page, phone.next, 3);
  await phone.page.waitForTimeout(1000);
  const { stages } = await hub.job(id);
  const done = stages[1].steps.filter((step) => step.standing === 'done');
  assert.deepEqual(done.map((step) => step.id), ['secured']);
  phone.quiet();
});

test('a second tap at the spine within 600 ms goes nowhere', async (t) => {
  const hub = await Hub.start(t);
  await takenIn(hub, 'TEST 603');
  const phone = await Phone.open(t, hub, { name: 'spine' });
  const { page } = phone;
  await phone.tap(page.getByRole('button', { name: /^TEST 603/ }));
  await page.getByRole('textbox', { name: WORDS }).waitFor();
  const knot = (name) => page.getByRole('button', { name });
  await phone.settled();
  const spots = [];
  for (const name of [/^3 Drain,/, /^5 Test,/]) {
    const box = await knot(name).boundingBox();
    spots.push([box.x + box.width / 2, box.y + box.height / 2]);
  }
  for (const spot of spots) {
    await page.touchscreen.tap(...spot);
    await page.waitForTimeout(120);
  }
  await page.waitForTimeout(1000);
  const spine = page.getByRole('navigation', { name: 'Stages' });
  const stands = () => spine.locator('[aria-current=step]').getAttribute('aria-label');
  assert.match(await stands(), /^3 Drain,/);
  // Once all is calm it is a tap like any other.
  await phone.tap(knot(/^5 Test,/));
  await phone.until(async () => /^5 Test,/.test(await stands()), 'the stage that was tapped');
  phone.quiet();
});

test('what one browser half typed, another neither sees nor loses', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 604');
  const ada = await Phone.open(t, hub, { name: 'ada-types' });
  const bo = await Phone.open(t, hub, { name: 'bo-types', profile: null });
  await bo.type('Your name, as the report gives it', 'Bo Invented');
  await bo.press('Begin');
  const field = ({ page }) => page.getByRole('textbox', { name: WORDS });
  await ada.at(`/job/${id}`);
  await ada.type(WORDS, HALF);
  await ada.until(async () => (await hub.job(id)).drafts.complaint?.includes(HALF), 'the hub has it');
  await bo.at(`/job/${id}`);
  await field(bo).waitFor();
  assert.equal(await field(bo).inputValue(), '');
  await bo.type(WORDS, 'of Bo');
  await bo.page.waitForTimeout(1000);
  for (const [phone, text] of [
    [ada, HALF],
    [bo, 'of Bo'],
  ]) {
    await phone.page.reload();
    await field(phone).waitFor();
    assert.equal(await field(phone).inputValue(), text);
  }
});

test('two people at one hub, each under their own name', async (t) => {
  const hub = await Hub.start(t);
  const one = await Phone.open(t, hub, { name: 'ada', profile: null });
  const other = await Phone.open(t, hub, { name: 'bo', profile: null });
  for (const [phone, name] of [
    [one, 'Ada Invented'],
    [other, 'Bo Invented'],
  ]) {
    await phone.type('Your name, as the report gives it', name);
    await phone.press('Begin');
  }
  await one.press('New job');
  // The press is answered before the job is written.
  const newest = async () => (await hub.call({ do: 'jobs', search: '', skip: 0, limit: 1 })).jobs[0];
  await one.until(newest, 'a job at the hub');
  const { id } = await newest();
  const notes = async () =>
    (await hub.call({ do: 'log', job: id })).lines.filter(({ words }) => words.startsWith('Note: '));
  for (const [phone, text] of [
    [one, 'seen by Ada'],
    [other, 'seen by Bo'],
  ]) {
    await phone.at(`/job/${id}/note/complaint`);
    await phone.type('In your words', text);
    await phone.press('Write the note');
    await phone.until(async () => (await notes()).some(({ words }) => words.includes(text)), text);
  }
  assert.deepEqual(
    (await notes()).map((line) => [line.words, line.by]),
    [
      ['Note: seen by Ada', 'Ada Invented'],
      ['Note: seen by Bo', 'Bo Invented'],
    ],
  );
});

test('typed while the hub is away, and there after a reload', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 602');
  const phone = await Phone.open(t, hub, { name: 'away' });
  const { page } = phone;
  await phone.tap(page.getByRole('button', { name: /^TEST 602/ }));
  await page.getByRole('textbox', { name: WORDS }).waitFor();
  await hub.kill();
  await phone.type(WORDS, HALF);
  await page.waitForTimeout(1000);
  await hub.serve();
  // The hub never had it.
  assert.equal((await hub.job(id)).drafts.complaint, undefined);
  await page.reload();
  const field = page.getByRole('textbox', { name: WORDS });
  await field.waitFor();
  assert.equal(await field.inputValue(), HALF);
  await phone.until(
    async () => ((await hub.job(id)).drafts.complaint ?? '').includes(HALF),
    'then both have it',
  );
});
