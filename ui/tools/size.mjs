// The script that a phone must load and parse, gzipped, against its ceiling.
import { readdirSync, readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';

const CEILING_KB = 150;
const folder = new URL('../dist/assets/', import.meta.url);
const sums = { js: 0, css: 0, woff2: 0 };
// Texts of a language beside English: a phone loads one of them at most.
let mostTexts = 0;
for (const name of readdirSync(folder)) {
  const kind = name.slice(name.lastIndexOf('.') + 1);
  const bytes = readFileSync(new URL(name, folder));
  if (/^screens-.*\.js$/.test(name)) {
    mostTexts = Math.max(mostTexts, gzipSync(bytes).length);
    continue;
  }
  if (kind in sums) sums[kind] += kind === 'woff2' ? bytes.length : gzipSync(bytes).length;
}
sums.js += mostTexts;
for (const [kind, bytes] of Object.entries(sums))
  console.log(`${kind} ${(bytes / 1024).toFixed(1)} KB`);
if (sums.js / 1024 > CEILING_KB) {
  console.error(`The script is over ${CEILING_KB} KB.`);
  process.exit(1);
}
