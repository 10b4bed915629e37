// The rules of axe-core on a page: serious and critical ones fail, the rest is told.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const GRAVE = new Set(['serious', 'critical']);

export async function check(t, page, what) {
  await page.evaluate(axe);
  // The report's frame lets no script in; it is looked at by itself above.
  const { violations } = await page.evaluate(() =>
    globalThis.axe.run(document, { iframes: false, resultTypes: ['violations'] }),
  );
  const say = (one) =>
    `${one.impact} ${one.id}: ${one.help}; ${one.nodes.map((node) => node.target.join(' ')).join(', ')}`;
  for (const one of violations.filter((one) => !GRAVE.has(one.impact))) {
    t.diagnostic(`${what}: ${say(one)}`);
  }
  assert.deepEqual(violations.filter((one) => GRAVE.has(one.impact)).map(say), [], what);
}
