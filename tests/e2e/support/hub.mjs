// A hub of its own for each test: an empty data folder, a free port, the key as it is kept.
import { spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

export const BIN = process.env.SWARFBOOK_BIN;
if (!BIN) throw new Error('SWARFBOOK_BIN names no program; start the tests by run.sh.');

export class Hub {
  /**
   * Starts one; `t` is the test, whose end stops it and takes its data away.
   * `seed` fills the folder before; `demo` loads the invented shop.
   */
  static async start(t, { seed, demo = false } = {}) {
    const hub = new Hub(mkdtempSync(join(tmpdir(), 'swarfbook-e2e-')));
    t.after(async () => {
      await hub.kill();
      for (const folder of [hub.data, hub.files]) rmSync(folder, { recursive: true, force: true });
    });
    await seed?.(hub.data);
    await hub.serve('127.0.0.1:0', demo ? ['--demo'] : []);
    return hub;
  }

  constructor(data) {
    this.data = data;
    /** For what the program writes out: it refuses to write into its data. */
    this.files = mkdtempSync(join(tmpdir(), 'swarfbook-files-'));
    this.child = null;
    this.said = '';
    /** Whose browser asks, as its cookie says. */
    this.who = randomBytes(16).toString('hex');
  }

  async serve(listen = this.listen, more = []) {
    const args = ['serve', '--data', this.data, '--listen', listen, ...more];
    const child = spawn(BIN, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    this.child = child;
    child.stderr.on('data', (bytes) => (this.said += bytes));
    const lines = createInterface({ input: child.stdout });
    const first = await Promise.race([
      once(lines, 'line').then(([line]) => line),
      once(child, 'exit').then(([code]) => {
        throw new Error(`The hub ended with ${code}: ${this.said}`);
      }),
    ]);
    if (first.includes('key=')) throw new Error(`The hub printed its key: ${first}`);
    this.address = readFileSync(join(this.data, 'hub-address'), 'utf8').trim();
    const address = new URL(this.address);
    this.origin = address.origin;
    this.listen = address.host;
    this.key = address.searchParams.get('key');
    this.profile = { name: `swarfbook-who-${address.port}`, value: this.who };
    // The key begins a session, whose secret is the first cookie.
    const entered = await fetch(this.address, { redirect: 'manual' });
    this.session = entered.headers.getSetCookie()[0].split(';')[0];
  }

  /** kill -9: no time to tidy up. */
  async kill() {
    const child = this.child;
    this.child = null;
    if (!child || child.exitCode !== null || child.signalCode !== null) return;
    child.kill('SIGKILL');
    await once(child, 'exit');
  }

  async #post(path, body, type) {
    const answer = await fetch(`${this.origin}${path}`, {
      method: 'POST',
      headers: {
        'content-type': type,
        cookie: `${this.session}; ${this.profile.name}=${this.profile.value}`,
      },
      body,
    });
    const reply = await answer.json();
    if (!answer.ok) throw new Error(`${path} ${answer.status}: ${JSON.stringify(reply)}`);
    return reply;
  }

  /** One command through the door, as a screen sends it. */
  call(command) {
    return this.#post('/call', JSON.stringify(command), 'application/json');
  }

  async putPhoto(bytes) {
    return (await this.#post('/photo', bytes, 'image/jpeg')).photo;
  }

  async job(id) {
    return (await this.call({ do: 'job', job: id })).job;
  }

  write(job, fact) {
    return this.call({ do: 'write', job, fact, sure: false });
  }
}
