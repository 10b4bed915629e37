// How fast the screens are, on a processor slowed down four times: `make bench` runs it after the
// program is built for release. It measures and judges nothing.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { chromium } from 'playwright-core';
import { Hub } from './support/hub.mjs';

const SLOWED = 4;
const RUNS = 5;
const DIST = join(dirname(fileURLToPath(import.meta.url)), '../../ui/dist');

const ends = [];
const t = { after: (end) => ends.push(end) };
try {
  const size = (file) => gzipSync(readFileSync(file), { level: 9 }).length / 1024;
  const scripts = readdirSync(join(DIST, 'assets')).filter((name) => /^index.*\.js$/.test(name));
  const script = scripts.reduce((sum, name) => sum + size(join(DIST, 'assets', name)), 0);
  console.log(`script of the first screen    ${script.toFixed(1)} KB gz`);
  console.log(`guidance of the camera        ${size(join(DIST, 'guide.wasm')).toFixed(1)} KB gz`);

  const hub = await Hub.start(t, { demo: true });
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox'],
  });
  t.after(() => browser.close());
  const page = await browser.newPage({ viewport: { width: 412, height: 915 }, hasTouch: true });
  await page.goto(hub.address);
  const slow = await page.context().newCDPSession(page);
  await slow.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });

  const starts = [];
  for (let run = 0; run < RUNS; run += 1) {
    await page.goto('about:blank');
    const from = performance.now();
    await page.goto(`${hub.origin}/#/more`, { waitUntil: 'commit' });
    await page.getByRole('button', { name: 'Procedures' }).waitFor();
    starts.push(performance.now() - from);
  }
  console.log(`first screen, ${SLOWED}x slowed       ${middle(starts).toFixed(0)} ms (middle of ${RUNS})`);

  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const all = await Promise.all(jobs.map(({ id }) => hub.job(id)));
  const photos = all.flatMap(({ id, photos }) => photos.map((photo) => ({ id, ...photo })));
  const fullest = photos.filter(({ census }) => census).sort((a, b) => b.census.n - a.census.n)[0];
  await page.evaluate((to) => (location.hash = to), `/job/${fullest.id}/photo/${fullest.entry}`);
  await page.getByTestId('picture').locator('img').waitFor();
  await page.waitForTimeout(1500);
  const frames = await page.evaluate(async () => {
    const zoom = [...document.querySelectorAll('.tabs button')].find(({ innerText }) => /Zoom/.test(innerText));
    zoom.click();
    await new Promise((done) => setTimeout(done, 500));
    const picture = document.querySelector('[data-testid=picture]');
    const moved = [picture, picture.parentElement, ...picture.querySelectorAll('*')].find(
      (one) => one.scrollWidth > one.clientWidth + 10 && getComputedStyle(one).overflowX !== 'visible',
    );
    const times = [];
    await new Promise((done) => {
      let last = performance.now();
      const step = (now) => {
        times.push(now - last);
        last = now;
        if (moved) moved.scrollLeft = (moved.scrollLeft + 6) % (moved.scrollWidth - moved.clientWidth);
        if (times.length < 120) requestAnimationFrame(step);
        else done();
      };
      requestAnimationFrame(step);
    });
    return { times: times.slice(1), moved: Boolean(moved) };
  });
  const late = frames.times.filter((ms) => ms > 25).length;
  console.log(
    `photo of ${fullest.census.n} pieces moved     ${late} of ${frames.times.length} frames late (over 25 ms), ` +
      `${SLOWED}x slowed${frames.moved ? '' : '; nothing could be moved'}`,
  );
} finally {
  for (const end of ends.reverse()) await end();
}

function middle(numbers) {
  return [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)];
}
