// The report's looks beside small kept pictures: on a phone, on A4 and on Letter.
//
// The report is the invented one of `core/report/examples/sample_report`, whose times, ids and
// key are fixed, with the demo's photos: the same words in the same places each time.
// `UPDATE=1 tests/e2e/run.sh snapshot` renews the pictures: look at them before you keep them.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { chromium } from 'playwright-core';
import { BIN } from './support/hub.mjs';
import { difference, fromPng, shrunk, toPng } from './support/picture.mjs';

const run = promisify(execFile);
const HERE = dirname(fileURLToPath(import.meta.url));
const ROOT = join(HERE, '../..');
const KEPT = join(HERE, 'pictures');
/** The letter's two pages at a size to read, for who has no program at hand. */
const SHOWN = join(ROOT, 'docs/report');
const OUT = join(HERE, '../out/snapshot');
const SAMPLE = join(dirname(BIN), 'examples/sample_report');
const PHOTOS = ['patch-06', 'magnet-04', 'pan-05', 'patch-10'].map((name) => join(ROOT, `core/app/demo/${name}.jpg`));
const FONTS = join(ROOT, 'core/report/fonts');

/** All kept pictures together, bytes. */
const MOST_BYTES = 600_000;
/** Those to read together, bytes. */
const MOST_SHOWN_BYTES = 1_000_000;

function folder(t) {
  const dir = mkdtempSync(join(tmpdir(), 'swarfbook-looks-'));
  t.after(() => rmSync(dir, { recursive: true, force: true }));
  return dir;
}

/** The sample as a file of that form; `more` are options of the example. */
async function sample(dir, form, more = []) {
  const file = join(dir, `sample.${form}`);
  await run(SAMPLE, [file, ...PHOTOS, ...more]);
  return file;
}

/** The pages of a PDF, by name; 72 dots an inch, halved, are about 300 x 420 pixels a page. */
async function pages(dir, file, paper, { dots = 72, side = 2, last = 99 } = {}) {
  await run('pdftoppm', ['-png', '-gray', '-r', `${dots}`, '-l', `${last}`, file, join(dir, paper)]);
  const made = readdirSync(dir).filter((name) => name.startsWith(`${paper}-`) && name.endsWith('.png'));
  const named = made.sort().map((name) => {
    const picture = shrunk(fromPng(readFileSync(join(dir, name))), side);
    rmSync(join(dir, name));
    return [name.replace(/-0*(\d+)\.png$/, '-$1'), picture];
  });
  return new Map(named);
}

/** The page in a browser at phone size, in our own faces: those of the machine differ. */
async function onPhone(t, file) {
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--font-render-hinting=none', '--disable-lcd-text'],
  });
  t.after(() => browser.close());
  // The report's own policy lets no face in.
  const context = await browser.newContext({
    viewport: { width: 412, height: 915 },
    deviceScaleFactor: 1,
    isMobile: true,
    hasTouch: true,
    bypassCSP: true,
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  await page.setContent(readFileSync(file, 'utf8'));
  const face = (name, weight) => {
    const data = readFileSync(join(FONTS, name)).toString('base64');
    return `@font-face{font-family:Kept;font-weight:${weight};src:url(data:font/ttf;base64,${data})}`;
  };
  await page.addStyleTag({
    content: `${face('AtkinsonHyperlegibleNext-Regular.ttf', 400)}${face('AtkinsonHyperlegibleNext-Bold.ttf', 700)}
      *{font-family:Kept!important}`,
  });
  await page.evaluate(async () => {
    await document.fonts.ready;
    await Promise.all([...document.images].map((image) => image.decode()));
  });
  return page;
}

/** Head and sections of the page, by name. */
async function sections(page) {
  const shots = new Map();
  for (const part of await page.locator('body > header, main > section').all()) {
    const name = (await part.getAttribute('aria-labelledby')) ?? 'head';
    shots.set(`phone-${name}`, shrunk(fromPng(await part.screenshot()), 3));
  }
  return shots;
}

/** The letter on a phone, a picture for each of the pages that it has on paper. */
async function letter(page) {
  const top = async (selector) => (await page.locator(selector).boundingBox()).y;
  const [second, annex] = [await top('section.row.page'), await top('section[aria-labelledby=annex]')];
  const shot = async (y, end) => {
    const clip = { x: 0, y, width: 412, height: end - y };
    return shrunk(fromPng(await page.screenshot({ fullPage: true, clip })), 1);
  };
  return new Map([
    ['phone-1', await shot(0, second)],
    ['phone-2', await shot(second, annex)],
  ]);
}

/** What is wrong with these pictures beside the kept ones whose name begins so, in words. */
function wrong(shots, begin, shelf = KEPT) {
  const kept = readdirSync(shelf).filter((name) => name.startsWith(`${begin}-`)).map((name) => name.slice(0, -4));
  const told = kept.filter((name) => !shots.has(name)).map((name) => `${name} is gone`);
  for (const [name, picture] of shots) {
    if (!kept.includes(name)) {
      told.push(`${name} is new`);
      continue;
    }
    const { differs, off, where } = difference(fromPng(readFileSync(join(shelf, `${name}.png`))), picture);
    if (!differs) continue;
    mkdirSync(OUT, { recursive: true });
    writeFileSync(join(OUT, `${name}-now.png`), toPng(picture));
    writeFileSync(join(OUT, `${name}-where.png`), where);
    told.push(`${name} differs (${off}); see tests/out/snapshot`);
  }
  return told;
}

function compare(shots, begin, shelf = KEPT) {
  if (process.env.UPDATE) {
    mkdirSync(shelf, { recursive: true });
    for (const name of readdirSync(shelf).filter((name) => name.startsWith(`${begin}-`))) rmSync(join(shelf, name));
    for (const [name, picture] of shots) writeFileSync(join(shelf, `${name}.png`), toPng(picture));
  }
  assert.deepEqual(wrong(shots, begin, shelf), []);
}

test('the sample can be made', () => {
  assert.ok(existsSync(SAMPLE), `${SAMPLE} is not built: cargo build -p swarfbook-report --examples`);
});

test('on a phone, each part looks as it did, and none can go unseen', async (t) => {
  const dir = folder(t);
  const page = await onPhone(t, await sample(dir, 'html'));
  const shots = await sections(page);
  assert.ok(shots.size >= 11, [...shots.keys()].join(', '));
  compare(shots, 'phone');

  // What a change could lose, taken away one at a time: the test sees each.
  for (const what of [
    'section[aria-labelledby=wear]',
    'section[aria-labelledby=advice]',
    '.answer',
    '.wipe .over img',
    '.frame svg',
    'svg.gauge',
    'svg.sizes',
    'svg.trend',
    'svg.reading',
    '.reasons li:last-child',
    '.swatches svg',
    '#not-done + ul',
    '.invented',
  ]) {
    const html = await page.content();
    const gone = await page.evaluate((selector) => {
      const found = [...document.querySelectorAll(selector)];
      for (const one of found) one.remove();
      return found.length > 0;
    }, what);
    assert.ok(gone, `the sample has no ${what}`);
    assert.notDeepEqual(wrong(await sections(page), 'phone'), [], `nobody saw that ${what} was gone`);
    await page.setContent(html);
    await page.evaluate(async () => {
      await document.fonts.ready;
      await Promise.all([...document.images].map((image) => image.decode()));
    });
  }
  assert.deepEqual(wrong(await sections(page), 'phone'), [], 'all is back');
});

for (const [paper, options] of [['a4', []], ['letter', ['--letter']]]) {
  test(`on ${paper}, each page looks as it did, and no part can go unseen`, async (t) => {
    const dir = folder(t);
    compare(await pages(dir, await sample(dir, 'pdf', options), paper), paper);
    for (const field of ['sizes', 'wear', 'advice', 'components', 'not_done', 'photos', 'cautions', 'fluid.swatches']) {
      const file = await sample(dir, 'pdf', [...options, '--without', field]);
      assert.notDeepEqual(wrong(await pages(dir, file, paper), paper), [], `nobody saw that ${field} was gone`);
    }
  });
}

test('the letter in docs is the one that is made', async (t) => {
  const dir = folder(t);
  for (const [paper, options] of [['a4', []], ['letter', ['--letter']]]) {
    const file = await sample(dir, 'pdf', options);
    compare(await pages(dir, file, paper, { dots: 100, side: 1, last: 2 }), paper, SHOWN);
  }
  compare(await letter(await onPhone(t, await sample(dir, 'html'))), 'phone', SHOWN);
});

test('the kept pictures are small', () => {
  for (const [shelf, most] of [[KEPT, MOST_BYTES], [SHOWN, MOST_SHOWN_BYTES]]) {
    const bytes = readdirSync(shelf).reduce((sum, name) => sum + readFileSync(join(shelf, name)).length, 0);
    assert.ok(bytes > 0 && bytes <= most, `${shelf}: ${bytes} bytes`);
  }
});
