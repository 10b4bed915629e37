// The window as a technician uses it: by the names of fields and keys.
import assert from 'node:assert/strict';
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const OUT = join(dirname(fileURLToPath(import.meta.url)), '../../out');
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';

/** Nothing here measures speed; two busy cores and a debug build may take their time. */
const PATIENCE = 120_000;

/** In the page: the first of these that is shown, can be used and bears this name. */
const FIND = `
  const [css, name] = arguments;
  const squeeze = (text) => (text ?? '').replace(/\\s+/g, ' ').trim();
  const nameOf = (one) =>
    one.getAttribute('aria-label') ?? one.labels?.[0]?.textContent ?? one.textContent;
  return [...document.querySelectorAll(css)].find((one) =>
    squeeze(nameOf(one)) === name && !one.disabled && one.getClientRects().length > 0) ?? null;
`;

export class Window {
  constructor(session, name) {
    this.session = session;
    this.name = name;
    this.shots = 0;
  }

  async find(css, name) {
    const found = await this.until(() => this.session.executeScript(FIND, [css, name]), `${css} "${name}"`);
    return found[ELEMENT];
  }

  /** Presses when the screens take a press: for 600 ms after a change of step or screen they take none. */
  async click(element) {
    await this.until(() => this.ask('return !document.documentElement.dataset.settling'), 'the screens at rest');
    await this.session.elementClick(element);
  }

  /** Presses a key; its whole name is wanted. */
  async press(name) {
    await this.click(await this.find('button, [role=button]', name));
  }

  /** Presses the next action, once it offers this. */
  async next(name) {
    await this.click(await this.find('[data-testid=next]', name));
  }

  offered(name) {
    return this.find('[data-testid=next]', name);
  }

  async type(field, text) {
    const element = await this.find('input, textarea', field);
    await this.click(element);
    await this.session.elementClear(element);
    await this.session.elementSendKeys(element, text);
  }

  /** Hands a file to the picker of this name, which itself is not shown. */
  async pick(css, file) {
    const element = await this.until(() => this.ask(`return document.querySelector(${JSON.stringify(css)})`), css);
    await this.session.elementSendKeys(element[ELEMENT], file);
  }

  ask(script) {
    return this.session.executeScript(script, []);
  }

  text() {
    return this.ask('return document.body.innerText');
  }

  reads(words) {
    return this.until(async () => (await this.text()).includes(words), `the words "${words}"`);
  }

  /** Waits until `holds` gives something, and gives that. */
  async until(holds, what) {
    const end = Date.now() + PATIENCE;
    for (;;) {
      const held = await holds();
      if (held) return held;
      if (Date.now() > end) {
        await this.shot('stuck');
        assert.fail(`Waited in vain for ${what}; the window says:\n${await this.text()}`);
      }
      await new Promise((done) => setTimeout(done, 100));
    }
  }

  async shot(what) {
    mkdirSync(OUT, { recursive: true });
    this.shots += 1;
    const file = `${this.name}-${String(this.shots).padStart(2, '0')}-${what}.png`;
    writeFileSync(join(OUT, file), Buffer.from(await this.session.takeScreenshot(), 'base64'));
  }

  close() {
    return this.session.deleteSession();
  }
}
