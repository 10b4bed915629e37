// A job as it was recorded: the commands that make the demo's finished job anew in another folder.
import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { strFromU8, unzipSync } from 'fflate';
import { BIN, Hub } from './hub.mjs';

/** The door by `swarfbook call`, kept open; it can be killed at any moment. */
export class Door {
  #child;
  #lines;
  #ended;

  constructor(data) {
    this.#child = spawn(BIN, ['call', '--data', data], { stdio: ['pipe', 'pipe', 'inherit'] });
    this.#child.stdin.on('error', () => undefined); // a line to one that was just killed
    this.#ended = once(this.#child, 'exit');
    this.#lines = createInterface({ input: this.#child.stdout })[Symbol.asyncIterator]();
  }

  /** The answer; null when the program is gone. */
  async ask(command) {
    this.#child.stdin.write(`${JSON.stringify(command)}\n`);
    const { value, done } = await this.#lines.next();
    return done ? null : JSON.parse(value);
  }

  /** kill -9. */
  async kill() {
    this.#child.kill('SIGKILL');
    await this.#ended;
  }

  async close() {
    this.#child.stdin.end();
    await this.#ended;
  }
}

/** The lines of the demo's finished job, oldest first, and its photos by name. */
export async function demoJob(t) {
  const hub = await Hub.start(t, { demo: true });
  await hub.kill();
  const file = join(hub.files, 'all.zip');
  execFileSync(BIN, ['export', '--data', hub.data, '--out', file], { stdio: 'pipe' });
  const files = unzipSync(readFileSync(file));
  const log = Object.keys(files).find((name) => name.startsWith('log/'));
  const lines = strFromU8(files[log]).trim().split('\n').map((line) => JSON.parse(line));
  const [longest] = grouped(lines).sort((a, b) => b.length - a.length);
  const photos = Object.entries(files).filter(([name]) => name.startsWith('photos/'));
  return { lines: longest, photos: new Map(photos.map(([name, bytes]) => [name.slice(7), bytes])) };
}

function grouped(lines) {
  const jobs = new Map();
  for (const line of lines) jobs.set(line.job, [...(jobs.get(line.job) ?? []), line]);
  return [...jobs.values()];
}

/** What to ask for so that the line is written again; `names` has the new ids of the lines before it. */
export function commandOf({ body }, job, names) {
  const named = JSON.parse(JSON.stringify(body), (_, value) => names.get(value) ?? value);
  switch (body.fact) {
    case 'opened':
    case 'written_by': // the door's own
      return null;
    case 'customer_linked':
      return { do: 'save_customer', job, name: 'Sam Invented', contact: '' };
    case 'census_made':
      return { do: 'take_census', job, photo: named.photo };
    default:
      return { do: 'write', job, fact: named, sure: true };
  }
}

/** Without what differs from run to run: ids by the order in which they come, no times. */
export function plain(view) {
  const ids = new Map();
  return JSON.parse(JSON.stringify(view), (_, value) => {
    if (typeof value !== 'string') return value;
    if (/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(value)) {
      if (!ids.has(value)) ids.set(value, `id ${ids.size}`);
      return ids.get(value);
    }
    return /^20\d\d-\d\d-\d\dT/.test(value) ? 'a time' : value;
  });
}
