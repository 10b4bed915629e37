// The pieces of a photo in their tray: how long a thumb takes over 93 of them, and the photo beside it.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const PIECES = 93;
/** The issue's own figures: a tap of a gloved thumb, and a look at a close-up. */
const TAP_S = 0.9;
const LOOK_S = 0.4;
const MOST_S = 40;
const LEAST_PX = 48;

test('93 pieces are reviewed in less than 40 s', async (t) => {
  const { hub, phone, path, id, patch } = await opened(t, PIECES);
  const { page } = phone;
  await phone.at(path);
  const tray = page.getByTestId('tray');
  await tray.getByRole('button').first().waitFor();
  assert.equal(await tray.getByRole('button').count(), PIECES);
  await phone.shot('all');

  await t.test('each is large enough to be recognised', async () => {
    const long = await tray.locator('[data-long]').evaluateAll((all) =>
      all.map((one) => [Number(one.dataset.long), one.clientWidth, one.clientHeight]),
    );
    assert.equal(long.length, PIECES);
    for (const [px, wide, high] of long) {
      assert.ok(px >= LEAST_PX, `a piece is ${px} px long in its close-up`);
      assert.ok(px <= Math.max(wide, high) + 1, `a piece of ${px} px is cut off in ${wide}`);
    }
  });

  // Heaviest and doubtful ones are looked at one by one; of the others, which the machine is sure of
  // and which lie by class, a row at a time.
  const heap = (name) => page.getByRole('region', { name, exact: true }).getByRole('button');
  const singly = (await heap('Heaviest in the score').count()) + (await heap('In doubt').count());
  const rows = new Set(
    await heap('Sure').evaluateAll((all) => all.map((one) => Math.round(one.offsetParent ? one.getBoundingClientRect().top : 0))),
  ).size;
  const looks = singly + rows;

  // Three that the machine took for something else: a tap each, and one on what they are.
  const start = phone.taps;
  for (const [name, at] of [['Heaviest in the score', 0], ['In doubt', 0], ['In doubt', 1]]) {
    await phone.tap(heap(name).nth(at));
    const keys = phone.group('What is it?');
    await keys.waitFor();
    await phone.until(async () => (await keys.locator(':disabled').count()) === 0, 'written');
    await phone.tap(keys.locator('[aria-pressed=false]').first());
    await page.getByText(/The machine said/).waitFor();
  }
  await phone.shot('corrected');
  await phone.tap(phone.button('Close the piece'));
  // A flick of the thumb for each screenful.
  const flicks = await tray.evaluate((one) => Math.ceil(one.scrollHeight / one.clientHeight) - 1);
  await tray.evaluate((one) => (one.scrollTop = one.scrollHeight));
  await phone.shot('last');
  await phone.press(/The rest is right: \d+/);
  const taps = phone.taps - start;
  const confirmed = async () => {
    const { photos } = await hub.job(id);
    return photos.find(({ entry }) => entry === patch.entry).census.confirmed;
  };
  await phone.until(confirmed, 'the count is confirmed');

  const seconds = (taps + flicks) * TAP_S + looks * LOOK_S;
  t.diagnostic(
    `${PIECES} pieces: ${taps} taps, ${flicks} flicks, ${looks} looks (${singly} at one piece, ${rows} at a row): ${seconds.toFixed(1)} s`,
  );
  const each = TAP_S + PIECES * LOOK_S;
  t.diagnostic(`nothing to correct, a look at each piece, one key: ${each.toFixed(1)} s`);
  assert.ok(seconds < MOST_S, `${seconds.toFixed(1)} s`);
  assert.ok(each < MOST_S, `${each.toFixed(1)} s`);
  await page.waitForLoadState('networkidle');
  await page.unrouteAll({ behavior: 'ignoreErrors' });
  phone.quiet();
});

test('the photo beside the tray: fingers zoom it and nothing else, one that rests hides the outlines', async (t) => {
  const { phone, path } = await opened(t, 0);
  const { page } = phone;
  await phone.at(path);
  const first = page.getByTestId('tray').getByRole('button').first();
  await first.waitFor();
  const touch = await fingers(page);

  // A long press on a piece shows it in the photo, and confirms nothing.
  const box = await first.boundingBox();
  await phone.settled();
  await touch('touchStart', [[box.x + 40, box.y + 40]]);
  await page.waitForTimeout(700);
  await touch('touchEnd', []);
  await page.getByTestId('picture').waitFor();
  await page.getByRole('region', { name: /^Piece 1 of/ }).waitFor();
  await page.getByText(/% sure/).first().waitFor();
  await phone.shot('in-photo');
  await phone.tap(phone.button('Close the piece'));
  await phone.tap(phone.button('Zoom out'));

  const picture = page.getByTestId('picture');
  const outlines = picture.locator('svg');
  const wide = () => picture.evaluate((one) => one.clientWidth);
  const before = await wide();
  const frame = await picture.locator('..').boundingBox();
  const [x, y] = [frame.x + frame.width / 2, frame.y + frame.height / 2];

  // Nothing is painted over a piece: by itself no letter stands there.
  assert.equal(await outlines.locator('text').count(), 0);
  await phone.tap(phone.button('Letters'));
  assert.ok((await outlines.locator('text').count()) > 0, 'letters where they are asked for');
  await phone.shot('letters');
  await phone.tap(phone.button('Letters'));

  await touch('touchStart', [[x + 60, y - 90]]);
  await page.waitForTimeout(600);
  assert.equal(await outlines.evaluate((one) => getComputedStyle(one).visibility), 'hidden');
  await phone.shot('held');
  await touch('touchEnd', []);
  await page.waitForTimeout(100);
  assert.equal(await outlines.evaluate((one) => getComputedStyle(one).visibility), 'visible');
  assert.equal(await page.getByRole('region', { name: /^Piece / }).count(), 0, 'no piece was chosen');

  await touch('touchStart', [[x - 40, y], [x + 40, y]]);
  for (const far of [60, 90, 120]) await touch('touchMove', [[x - far, y], [x + far, y]]);
  await touch('touchEnd', []);
  await page.waitForTimeout(200);
  assert.ok((await wide()) > 2 * before, 'two fingers zoom the picture');
  assert.equal(await page.evaluate(() => visualViewport.scale), 1, 'and not the page');
  const at = await picture.boundingBox();
  await touch('touchStart', [[x, y]]);
  for (const far of [20, 50, 80]) await touch('touchMove', [[x + far, y + far]]);
  await touch('touchEnd', []);
  await page.waitForTimeout(200);
  const after = await picture.boundingBox();
  assert.ok(after.x > at.x + 40 && after.y > at.y + 40, 'one finger moves it');
  await phone.shot('zoomed');
  phone.quiet();
});

/** The demo's patch; with `fill`, so many pieces: its own, and then some of them again a little beside. */
async function opened(t, fill) {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: 'DEMO 202', skip: 0, limit: 1 });
  const [{ id }] = jobs;
  const patch = (await hub.job(id)).photos.find(({ subject }) => subject === 'patch');
  const phone = await Phone.open(t, hub, { name: fill ? 'tray' : 'tray-photo' });
  if (fill) {
    await phone.page.route('**/call', async (route) => {
      const answer = await route.fetch();
      const reply = await answer.json();
      if (reply.reply === 'photo') reply.photo.particles = filled(reply.photo.particles, fill);
      await route.fulfill({ response: answer, json: reply });
    });
  }
  return { hub, phone, id, patch, path: `/job/${id}/photo/${patch.entry}` };
}

function filled(particles, wanted) {
  const debris = particles.filter((piece) => !piece.not_debris);
  const by = ([x, y]) => [x + 14, y + 14];
  const more = Array.from({ length: wanted - particles.length }, (_, n) => {
    // From the end of the order: sure ones, as most pieces of a full photo are.
    const sorted = [...debris].sort((a, b) => b.rank - a.rank);
    const piece = sorted[n % sorted.length];
    const index = particles.length + n;
    return { ...piece, index, at_px: by(piece.at_px), outline_px: piece.outline_px.map(by) };
  });
  return [...particles, ...more];
}

/** Fingers on the glass, as the browser's own protocol plays them. */
async function fingers(page) {
  const session = await page.context().newCDPSession(page);
  return (type, points) =>
    session.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: points.map(([x, y], id) => ({ x, y, id })),
    });
}
