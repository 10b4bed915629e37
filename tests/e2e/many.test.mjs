// Three thousand jobs in the list and sixty photos in a job: every screen still opens.
// Waits are generous and nothing is timed: how fast it is, the benchmarks tell.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { SETTINGS, takenIn } from './support/facts.mjs';
import { Hub } from './support/hub.mjs';
import { JOBS, plate, threeThousand } from './support/many.mjs';
import { DEMO, Phone } from './support/phone.mjs';

const PHOTOS = 60;

test('a list of 3,000 jobs scrolls, finds and opens', async (t) => {
  const hub = await Hub.start(t, { seed: threeThousand });
  await hub.call({ do: 'save_settings', settings: SETTINGS });
  const phone = await Phone.open(t, hub, { name: 'many-jobs' });
  const { page } = phone;
  const row = (name) => page.getByRole('button', { name: new RegExp(`^${name}`) });

  await page.getByText(`${JOBS} jobs`).waitFor();
  // The one last touched is next to the thumb.
  await row(plate(JOBS)).waitFor();
  assert.ok(await row(plate(JOBS)).isVisible());
  await phone.shot('list');

  // No more rows than a screen holds are drawn.
  const drawn = await page.getByRole('list', { name: 'Jobs' }).getByRole('listitem').count();
  assert.ok(drawn < 60, `${drawn} rows drawn`);

  const list = page.locator('main');
  await list.evaluate((main) => main.scrollTo(0, 0));
  await row(plate(1)).waitFor();
  await list.evaluate((main) => main.scrollTo(0, main.scrollHeight / 2));
  await row('MANY 1[45]').first().waitFor();
  await phone.shot('list-middle');

  await phone.tap(phone.button('Find'));
  await phone.type('Find a job', 'many 1234');
  await page.getByText('1 job', { exact: true }).waitFor();
  await phone.shot('found');
  await phone.tap(row(plate(1234)));
  await phone.wanted('The words first');
  await page.locator('header').getByText(plate(1234)).waitFor();
  phone.quiet();
});

test('a job with 60 photos opens on each of its screens', async (t) => {
  const hub = await Hub.start(t);
  const id = await takenIn(hub, 'TEST 60');
  const names = ['patch-06', 'patch-10', 'pan-01', 'pan-05', 'magnet-01', 'magnet-04'];
  for (let n = 0; n < PHOTOS; n += 1) {
    const name = names[n % names.length];
    const photo = await hub.putPhoto(readFileSync(join(DEMO, `${name}.jpg`)));
    const [subject] = name.split('-');
    const step = { patch: 'patch', pan: 'pan-photo', magnet: 'magnets' }[subject];
    const { entry } = await hub.write(id, { fact: 'photo_taken', step, photo, subject });
    // Each picture is read once; reading the same ten times over would show nothing more.
    if (n < names.length) await hub.call({ do: 'take_census', job: id, photo: entry });
  }
  const phone = await Phone.open(t, hub, { name: 'many-photos' });
  const { page } = phone;
  await phone.tap(page.getByRole('button', { name: /^TEST 60/ }));
  await phone.wanted('The words first');
  await phone.shot('job');

  const more = async (place) => {
    await phone.tap(phone.button('More'));
    await phone.tap(page.locator('main').getByRole('button', { name: place }));
  };
  await more(/^Photos/);
  const photos = page.locator('main').getByRole('listitem');
  await photos.first().waitFor();
  assert.equal(await photos.count(), PHOTOS);
  await photos.last().scrollIntoViewIfNeeded();
  const last = photos.last().locator('img');
  await phone.until(() => last.evaluate((img) => img.complete && img.naturalWidth > 0), 'the last photo');
  await phone.shot('photos');
  await phone.tap(photos.last().getByRole('button'));
  await page.getByTestId('picture').locator('img').waitFor();
  await phone.tap(phone.button('Back'));
  await photos.first().waitFor();
  await phone.tap(phone.button('Back'));

  await more(/^The pan and the score/);
  await page.getByText(/^(Advice|As counted so far): /).waitFor();
  await phone.shot('pan');
  await phone.tap(phone.button('Back'));

  await more(/^The whole log/);
  const lines = page.locator('main').getByRole('listitem');
  await phone.until(async () => (await lines.count()) > PHOTOS, 'every line of the log');
  await phone.shot('log');
  await phone.tap(phone.button('Back'));

  await more(/^The report/);
  await phone.offered('Make the report');
  await page.frameLocator('iframe').getByRole('heading', { name: 'Condition report' }).waitFor();
  await phone.shot('report');
  phone.quiet();
});
