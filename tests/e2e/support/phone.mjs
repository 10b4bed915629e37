// A phone as Chromium plays one: its size, touch, a camera; and a thumb that counts its taps.
import assert from 'node:assert/strict';
import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const OUT = join(dirname(fileURLToPath(import.meta.url)), '../../out');
export const DEMO = join(OUT, '../../core/app/demo');

/** Nothing here measures speed; two busy cores and a debug build may take their time. */
const PATIENCE = 60_000;
/** A photo is read by the same machine that plays the phone. */
const READING = 240_000;

export class Phone {
  /** `camera`: an MJPEG file that the camera sees; `profile`: whose browser it is, `null` for nobody's yet. Ends with the test `t`. */
  static async open(t, hub, { name, camera, profile = hub.profile } = {}) {
    const browser = await chromium.launch({
      executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--use-fake-ui-for-media-stream',
        '--use-fake-device-for-media-stream',
        ...(camera ? [`--use-file-for-fake-video-capture=${camera}`] : []),
      ],
    });
    t.after(() => browser.close());
    const context = await browser.newContext({
      viewport: { width: 412, height: 915 },
      deviceScaleFactor: 1,
      hasTouch: true,
      isMobile: true,
      locale: 'en-GB',
      permissions: ['camera'],
      reducedMotion: 'reduce',
    });
    // The lines that a test writes beside the screens are this phone's own: one profile for both.
    if (profile) await context.addCookies([{ ...profile, url: hub.origin }]);
    const page = await context.newPage();
    page.setDefaultTimeout(PATIENCE);
    const phone = new Phone(page, hub, name);
    await page.goto(hub.address);
    return phone;
  }

  constructor(page, hub, name = 'phone') {
    this.page = page;
    this.name = name;
    this.taps = 0;
    /** What each tap was: a digit of ours, a tick of a step, or another. */
    this.counted = [];
    this.typed = 0;
    this.shots = 0;
    this.errors = [];
    this.strangers = new Set();
    page.on('console', (said) => {
      if (said.type() === 'error') this.errors.push(`${said.text()} ${said.location().url}`);
    });
    page.on('pageerror', (error) => this.errors.push(String(error)));
    page.on('request', (request) => {
      const url = new URL(request.url());
      const own = url.origin === hub.origin || ['data:', 'blob:', 'about:'].includes(url.protocol);
      if (!own) this.strangers.add(request.url());
    });
  }

  /** Goes to a screen by its address, and waits until it is drawn and the machine does nothing more. */
  async at(path) {
    const { page } = this;
    await page.evaluate((to) => (location.hash = to), path);
    await page.waitForFunction((to) => location.hash === `#${to}`, path);
    await page.getByRole('heading', { level: 1 }).first().waitFor({ state: 'attached' });
    await page.locator('.waiting').waitFor({ state: 'detached', timeout: 120_000 });
    await page.evaluate(
      () => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 200))),
    );
  }

  /**
   * Presses when the screens take a press. For 600 ms after a change of step or screen they take none
   * (two presses on one spot would be two lines); a thumb needs that long to find the next key, so the
   * test waits as one would. `tests/e2e/settle.test.mjs` presses at once and sees nothing happen.
   */
  async tap(locator) {
    await locator.waitFor();
    await this.settled();
    const name = (await locator.innerText()).trim();
    await locator.tap();
    this.taps += 1;
    this.counted.push(/^[\d.]$/.test(name) ? 'digit' : /^Tick: /.test(name) ? 'tick' : 'other');
  }

  async settled() {
    await this.page.locator('html:not([data-settling])').waitFor({ state: 'attached' });
  }

  button(name, inside = this.page) {
    return inside.getByRole('button', { name, exact: true });
  }

  group(label) {
    return this.page.getByRole('group', { name: label, exact: true });
  }

  /** Presses a key of a group of keys. */
  key(group, name) {
    return this.tap(this.button(name, this.group(group)));
  }

  /** Presses keys one after another, as "13.1" on number keys. */
  async keys(group, text) {
    for (const one of text) await this.key(group, one === '.' ? 'point' : one);
  }

  /** The phone's own keyboard, into the field that has the focus; not counted as taps. */
  async keyboard(text) {
    await this.page.keyboard.type(text);
    this.typed += text.length;
  }

  /** That keyboard's Enter: a key of it, as each letter is. */
  async enter() {
    await this.page.keyboard.press('Enter');
    this.typed += 1;
  }

  get next() {
    return this.page.getByTestId('next');
  }

  /** Waits until the thumb bar offers this and it can be pressed, then presses it. */
  async press(label, timeout = PATIENCE) {
    await this.offered(label, timeout);
    await this.tap(this.next);
  }

  async offered(label, timeout = PATIENCE) {
    const wanted = label instanceof RegExp ? label : new RegExp(`^\\s*${escape(label)}\\s*$`);
    try {
      await this.page.locator('[data-testid=next]:enabled').filter({ hasText: wanted })
        .waitFor({ timeout });
    } catch {
      const bar = (await this.page.locator('footer').innerText()).replaceAll('\n', ' | ');
      await this.shot('stuck');
      assert.fail(`The bar offers "${bar}" and not ${label}`);
    }
  }

  /** Waits until the bar says what is wanted first. */
  async wanted(label) {
    await this.page.locator('[data-testid=next]:disabled').filter({ hasText: label }).waitFor();
  }

  /** Taps a field and types; the phone's own keyboard is not counted as taps. */
  async type(label, text) {
    const field = this.page.getByRole('textbox', { name: label, exact: true });
    await this.tap(field);
    await field.fill('');
    await this.keyboard(text);
  }

  /** A number on our own keys under its field: its characters, or the keys' names. */
  async number(label, text) {
    await this.tap(this.page.getByRole('textbox', { name: label, exact: true }));
    await this.digits(label, text);
  }

  /** The same where the keys stand open already. */
  async digits(label, text) {
    const field = this.page.getByRole('textbox', { name: label, exact: true });
    const keys = this.page.locator('.number').filter({ has: field }).getByRole('group');
    for (const one of text) await this.tap(this.button(one === '.' ? 'point' : one, keys));
  }

  /** A photo through the file picker of the camera's screen. */
  async pick(file) {
    const chooser = this.page.waitForEvent('filechooser');
    await this.tap(this.page.getByText('Photo file', { exact: true }));
    await (await chooser).setFiles(file);
  }

  /** The photo's own screen, once the machine has read it. */
  async read() {
    await this.page.getByRole('group', { name: 'About this photo' }).waitFor({ timeout: READING });
    await this.next.waitFor({ timeout: READING });
    const { page } = this;
    await page.locator('[data-testid=tray] button, [data-testid=picture] img').first().waitFor();
  }

  /** Goes to a step: its stage in the spine, then its name among the stage's steps. */
  async step(stage, title) {
    await this.tap(this.page.getByRole('button', { name: new RegExp(`^${stage},`) }));
    await this.tap(this.page.locator('main summary').filter({ has: this.page.locator('h1') }));
    await this.tap(this.page.getByRole('button', { name: new RegExp(`^${title},`) }));
  }

  /** Waits until a field has the focus by itself, then types: no tap. */
  async typeFocused(label, text) {
    const field = this.page.getByRole('textbox', { name: label, exact: true });
    await field.waitFor();
    await this.until(() => field.evaluate((one) => one === document.activeElement), `focus: ${label}`);
    await this.keyboard(text);
  }

  /** Waits for something that no screen shows. */
  async until(holds, what) {
    const end = Date.now() + PATIENCE;
    while (!(await holds())) {
      if (Date.now() > end) assert.fail(`Waited in vain: ${what}`);
      await this.page.waitForTimeout(100);
    }
  }

  async trouble() {
    const alert = this.page.getByRole('alert');
    await alert.waitFor();
    return (await alert.innerText()).replaceAll('\n', ' ');
  }

  async shot(what) {
    mkdirSync(OUT, { recursive: true });
    this.shots += 1;
    const number = String(this.shots).padStart(2, '0');
    await this.page.screenshot({ path: join(OUT, `${this.name}-${number}-${what}.png`) });
  }

  /** No error was said and nobody but the hub was asked. */
  quiet() {
    assert.deepEqual(this.errors, [], 'errors in the console');
    assert.deepEqual([...this.strangers], [], 'requests to others than the hub');
  }
}

function escape(text) {
  return text.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');
}
