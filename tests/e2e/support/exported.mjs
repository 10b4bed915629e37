// An export as another program would write it, from what the README inside one says:
// the quickest way to a full book, and a check that the form can be written from its description.
import { execFileSync } from 'node:child_process';
import { createHash, randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import { BIN } from './hub.mjs';

/** Jobs into an empty folder `data`; `jobs` is a list of lists of facts, one line a second. */
export function importJobs(data, settings, jobs) {
  const folder = mkdtempSync(join(tmpdir(), 'swarfbook-export-'));
  try {
    const file = join(folder, 'jobs.zip');
    writeFileSync(file, exported(settings, jobs));
    execFileSync(BIN, ['import', '--data', data, file], { stdio: ['ignore', 'ignore', 'inherit'] });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function exported(settings, jobs) {
  const device = randomUUID();
  let millis = Date.now() - jobs.flat().length * 1000;
  let prev = '0'.repeat(64);
  let seq = 0;
  const lines = [];
  for (const facts of jobs) {
    const job = randomUUID();
    for (const body of facts) {
      millis += 1000;
      seq += 1;
      const hlc = { millis, counter: 0 };
      const wall = new Date(millis).toISOString();
      const line = canonical({ id: uuid7(millis), job, device, seq, wall, hlc, prev, body });
      prev = createHash('sha256').update(line).digest('hex');
      lines.push(`${line}\n`);
    }
  }
  const holds = { entries: lines.length, photos: 0, photos_missing: 0, customers: 0, procedures: 0 };
  const manifest = { form: 'swarfbook-export', version: 1, ...holds, heads: { [device]: prev } };
  return zipSync({
    'README.txt': strToU8('Invented jobs for a test.'),
    [`log/${device}.jsonl`]: strToU8(lines.join('')),
    'customers.jsonl': strToU8(''),
    'procedures.jsonl': strToU8(''),
    'drafts.jsonl': strToU8(''),
    'settings.json': strToU8(JSON.stringify({ device_settings: settings })),
    'manifest.json': strToU8(JSON.stringify(manifest)),
  });
}

/** RFC 8785 for what stands in these lines: members by their names; ECMAScript's own numbers and strings. */
function canonical(value) {
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  const members = Object.keys(value).sort();
  return `{${members.map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`).join(',')}}`;
}

/** RFC 9562, version 7: 48 bits of milliseconds, then chance. */
function uuid7(millis) {
  const time = millis.toString(16).padStart(12, '0');
  return `${time.slice(0, 8)}-${time.slice(8)}-7${randomUUID().slice(15)}`;
}
