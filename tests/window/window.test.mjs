// The Tauri window from an empty folder: first run, a job, its car, a tick, a photo; then the
// window is shut and opened again, and stands where it stood.
import assert from 'node:assert/strict';
import { copyFileSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { Driver } from './support/driver.mjs';
import { Window } from './support/window.mjs';

const PHOTO = join(dirname(fileURLToPath(import.meta.url)), '../../core/app/demo/patch-06.jpg');

// What the policy refuses; and what is fetched, since Tauri goes over to postMessage without a
// word when its own scheme is refused, and a photo would then travel as numbers.
const WATCH = `
  window.refused = [];
  window.fetched = [];
  document.addEventListener('securitypolicyviolation', (e) =>
    window.refused.push(e.violatedDirective + ' ' + e.blockedURI));
  const real = window.fetch;
  window.fetch = async (...all) => {
    const answer = await real(...all);
    window.fetched.push(String(all[0]));
    return answer;
  };
`;

test('a job in the window, and the window opened again', async (t) => {
  const data = mkdtempSync(join(tmpdir(), 'swarfbook-window-'));
  t.after(() => rmSync(data, { recursive: true, force: true }));
  const driver = await Driver.start(t, data);

  const first = new Window(await driver.open(), 'window-first');
  await first.ask(WATCH);
  await t.test('the first run leads to an empty book', () => firstRun(first));
  await t.test('a job gets its car and a tick', () => takeIn(first));
  await t.test('a photo goes in by the IPC and comes back by the scheme', () => photo(first));
  await t.test('nothing of the shell but its own commands answers', () => closed(first));
  await t.test('the content policy had nothing to refuse', async () => {
    assert.deepEqual(await first.ask('return window.refused'), []);
  });
  const stood = await first.ask('return location.hash');
  await first.close();

  const again = new Window(await driver.open(), 'window-again');
  await t.test('opened again, it stands where it stood', async () => {
    await again.reads('TEST 101');
    await again.until(
      async () => (await again.ask('return location.hash')) === stood,
      `the address ${stood}`,
    );
    await shown(again);
    await again.shot('where-it-was');
  });
  await again.close();
});

// The phone's camera is played by a file in its folder; that the system ends the app, by shutting it.
test('a photo of the phone\'s camera that came while the app was shut', async (t) => {
  const [data, taken] = ['data', 'taken'].map((name) => {
    const folder = mkdtempSync(join(tmpdir(), `swarfbook-${name}-`));
    t.after(() => rmSync(folder, { recursive: true, force: true }));
    return folder;
  });
  const driver = await Driver.start(t, data, taken);
  const file = join(taken, 'JPEG_20260504_101500_1.jpg');

  const first = new Window(await driver.open(), 'stray-first');
  await firstRun(first);
  await first.next('New job');
  await first.press('Camera');
  await first.until(async () => (await first.ask('return location.hash')).includes('/camera/'), 'the camera');
  await first.close();
  copyFileSync(PHOTO, file);

  const again = new Window(await driver.open(), 'stray-again');
  await t.test('opened again, it is offered and kept', async () => {
    await again.reads('and the app was closed meanwhile');
    await shown(again);
    await again.shot('offered');
    await again.next('Keep this photo');
    await again.until(
      async () => /^#\/job\/[^/]+$/.test(await again.ask('return location.hash')),
      'the step itself',
    );
    assert.ok(existsSync(file), 'it stays until the next start finds it in a job');
  });
  await again.close();

  const last = new Window(await driver.open(), 'stray-last');
  await t.test('the next start finds it in the job, and takes its file away', async () => {
    await last.until(() => !existsSync(file), 'the file gone');
    await last.press('More');
    await last.reads('The whole log');
    assert.ok(!(await last.text()).includes('From the phone’s camera'));
    await last.shot('more');
  });
  await last.close();
});

async function firstRun(window) {
  await window.reads('A notebook for gearbox work.');
  await window.shot('first-run');
  await window.type('Your name, as the report gives it', 'Robin Invented');
  await window.type("The shop's name", 'Invented Driveline Shop');
  await window.next('Begin');
  await window.reads('The book is empty.');
}

async function takeIn(window) {
  await window.next('New job');
  await window.type('The car', 'invented estate car');
  await window.type('Plate', 'TEST 101');
  await window.type('Odometer', '118400');
  await window.next('Write: TEST 101');
  await window.reads('The complaint');
  await window.shot('ticked');
}

async function photo(window) {
  await window.press('Camera');
  await window.pick('input[type=file]:not([capture])', PHOTO);
  await shown(window);
  await window.shot('photo');
  const fetched = await window.ask('return window.fetched');
  assert.ok(fetched.some((one) => one.endsWith('put_photo')), `the photo went raw: ${fetched}`);
}

/** A photo in the notebook, which is one line until it is opened. */
function shown(window) {
  return window.until(
    () =>
      window.ask(`for (const one of document.querySelectorAll('main details')) one.open = true;
        return [...document.images].some((one) => one.naturalWidth > 0 &&
        /^swarf:\\/\\/localhost\\/photo\\/[0-9a-f]{64}/.test(one.src))`),
    'a photo by swarf://',
  );
}

async function closed(window) {
  assert.equal(await window.ask('return typeof window.__TAURI__'), 'undefined');
  for (const command of ['plugin:app|version', 'plugin:window|close', 'plugin:event|listen']) {
    const said = await window.session.executeAsyncScript(
      `const done = arguments[1];
       window.__TAURI_INTERNALS__.invoke(arguments[0]).then(() => done('answered'), (no) => done(String(no)))`,
      [command],
    );
    assert.match(said, /not allowed|not found/, command);
  }
  assert.equal(
    await window.session.executeAsyncScript(
      `const done = arguments[0];
       fetch('https://192.0.2.7/').then(() => done('reached'), () => done('refused'))`,
      [],
    ),
    'refused',
  );
  // That one was asked for; what the screens did themselves is judged apart.
  await window.ask("window.refused = window.refused.filter((one) => !one.includes('192.0.2.7'))");
}
