// svelte-check has been seen to pass without looking at anything. So it must
// find nothing in the sources, and must find the known error in known-bad.
import { spawnSync } from 'node:child_process';

function svelteCheck(config) {
  const run = spawnSync(
    process.execPath,
    [
      'node_modules/svelte-check/bin/svelte-check',
      '--tsconfig',
      config,
      '--output',
      'machine',
      '--fail-on-warnings',
    ],
    { encoding: 'utf8' },
  );
  return { code: run.status, text: run.stdout + run.stderr };
}

const sources = svelteCheck('./tsconfig.json');
process.stdout.write(sources.text);
if (sources.code !== 0) process.exit(1);
const looked = /COMPLETED (\d+) FILES 0 ERRORS 0 WARNINGS/.exec(sources.text);
if (!looked || Number(looked[1]) < 50) {
  console.error('svelte-check did not look at the sources.');
  process.exit(1);
}

const bad = svelteCheck('./tsconfig.known-bad.json');
if (bad.code === 0 || !bad.text.includes("Type 'string' is not assignable to type 'number'")) {
  process.stdout.write(bad.text);
  console.error('svelte-check did not find the known error in tools/known-bad.');
  process.exit(1);
}
console.log('svelte-check: no finding in the sources, and the known error was found.');
