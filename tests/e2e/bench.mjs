// How fast the screens are, on a processor slowed down four times: `make bench` runs it after the
// program is built for release. It measures, and says what was asked for beside each figure; it judges nothing.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { chromium } from 'playwright-core';
import { Hub } from './support/hub.mjs';
import { JOBS, threeThousand } from './support/many.mjs';

const SLOWED = 4;
const RUNS = 5;
const PIECES = 150;
/** A frame that comes later than this missed one of 60 a second. */
const LATE_MS = 25;
const DIST = join(dirname(fileURLToPath(import.meta.url)), '../../ui/dist');

const ends = [];
const t = { after: (end) => ends.push(end) };
try {
  sizes();
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox'],
  });
  t.after(() => browser.close());
  const demo = await Hub.start(t, { demo: true });
  await firstScreen(await slowPage(browser, demo), demo);
  await review(await slowPage(browser, demo), demo);
  const full = await Hub.start(t, { seed: threeThousand });
  await longList(await slowPage(browser, full), full);
} finally {
  for (const end of ends.reverse()) await end();
}

function sizes() {
  const size = (file) => gzipSync(readFileSync(file), { level: 9 }).length / 1024;
  const scripts = readdirSync(join(DIST, 'assets')).filter((name) => /^index.*\.js$/.test(name));
  const script = scripts.reduce((sum, name) => sum + size(join(DIST, 'assets', name)), 0);
  const guide = readdirSync(join(DIST, 'assets')).filter((name) => /^guide.*\.js$/.test(name));
  const guidance = guide.reduce(
    (sum, name) => sum + size(join(DIST, 'assets', name)),
    size(join(DIST, 'guide.wasm')),
  );
  say('script of the first screen', `${script.toFixed(1)} KB gz`, 'at most 150');
  say('guidance of the camera', `${guidance.toFixed(1)} KB gz`, 'at most 600');
}

async function slowPage(browser, hub) {
  const page = await browser.newPage({ viewport: { width: 412, height: 915 }, hasTouch: true });
  await page.goto(hub.address);
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
  return page;
}

async function firstScreen(page, hub) {
  const starts = [];
  for (let run = 0; run < RUNS; run += 1) {
    await page.goto('about:blank');
    const from = performance.now();
    await page.goto(`${hub.origin}/#/more`, { waitUntil: 'commit' });
    await page.getByRole('button', { name: 'Procedures' }).waitFor();
    starts.push(performance.now() - from);
  }
  say(
    `first screen, ${SLOWED}x slowed`,
    `${middle(starts).toFixed(0)} ms (middle of ${RUNS})`,
    'at most 1,000',
  );
}

/** The demo's fullest photo, its pieces laid down again beside themselves until there are enough. */
async function review(page, hub) {
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const all = await Promise.all(jobs.map(({ id }) => hub.job(id)));
  const photos = all.flatMap(({ id, photos }) => photos.map((photo) => ({ id, ...photo })));
  const fullest = photos.filter(({ census }) => census).sort((a, b) => b.census.n - a.census.n)[0];
  await page.route('**/call', async (route) => {
    const answer = await route.fetch();
    const reply = await answer.json();
    if (reply.reply === 'photo') reply.photo.particles = repeated(reply.photo.particles);
    await route.fulfill({ response: answer, json: reply });
  });
  await page.evaluate((to) => (location.hash = to), `/job/${fullest.id}/photo/${fullest.entry}`);
  await page.getByTestId('tray').locator('button').first().waitFor();
  await page.waitForTimeout(2000);
  const frames = await moved(page, '[data-testid=tray]', 'scrollTop', 20);
  say(`tray of ${PIECES} pieces scrolled, ${SLOWED}x slowed`, told(frames), 'none');
}

function repeated(particles) {
  return Array.from({ length: PIECES }, (_, index) => {
    const piece = particles[index % particles.length];
    const by = 40 * Math.floor(index / particles.length);
    const beside = ([x, y]) => [x + by, y + by];
    return { ...piece, index, at_px: beside(piece.at_px), outline_px: piece.outline_px.map(beside) };
  });
}

async function longList(page, hub) {
  await page.goto(`${hub.origin}/#/`);
  await page.getByText(`${JOBS} jobs`).waitFor();
  await page.waitForTimeout(1000);
  say(
    `list of ${JOBS} jobs scrolled, ${SLOWED}x slowed`,
    told(await moved(page, 'main', 'scrollTop', -40)),
    'none',
  );
}

/** Scrolls the first of these that can be, a step a frame, and times the frames; null when none can. */
function moved(page, selector, way, step) {
  return page.evaluate(
    async ([selector, way, step]) => {
      const long = (one) => one.scrollHeight > one.clientHeight + 10;
      const sheet = [...document.querySelectorAll(selector)].find(long);
      if (!sheet) return null;
      const times = [];
      await new Promise((done) => {
        let last = performance.now();
        const frame = (now) => {
          times.push(now - last);
          last = now;
          sheet[way] += step;
          if (times.length < 120) requestAnimationFrame(frame);
          else done();
        };
        requestAnimationFrame(frame);
      });
      return times.slice(1);
    },
    [selector, way, step],
  );
}

function told(frames) {
  if (!frames) return 'nothing could be moved';
  const late = frames.filter((ms) => ms > LATE_MS).length;
  return `${late} of ${frames.length} frames late (over ${LATE_MS} ms), longest ${Math.max(...frames).toFixed(0)} ms`;
}

function say(what, figure, asked) {
  console.log(`${what.padEnd(44)} ${figure}; asked: ${asked}`);
}

function middle(numbers) {
  return [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)];
}
