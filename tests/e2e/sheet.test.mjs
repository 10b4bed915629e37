// The sheet of screens that the README shows, `docs/screens.png`: each fits in both papers, and
// `UPDATE=1 tests/e2e/run.sh sheet` draws it anew. The photos are rendered, the shop is invented.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { filmOf } from './support/camera.mjs';
import { misfits } from './support/fits.mjs';
import { Hub } from './support/hub.mjs';
import { DEMO, Phone } from './support/phone.mjs';

const SHEET = join(DEMO, '../../../docs/screens.png');
const MOST_BYTES = 1_000_000;
/** How wide a screen is drawn in it, of 412 px. */
const WIDE = 250;
const PAPERS = ['bay', 'desk'];

test('the screens of the sheet fit in both papers', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const of = (plate) => jobs.find((job) => job.title.startsWith(plate)).id;
  const [done, decide, taken] = [of('DEMO 101'), of('DEMO 202'), of('DEMO 303')];
  const patch = (await hub.job(decide)).photos.find(({ subject }) => subject === 'patch').entry;
  const places = [
    '/',
    `/job/${taken}/step/secured`,
    `/job/${taken}/camera/secured/patch`,
    `/job/${decide}/photo/${patch}`,
    `/job/${decide}/pan`,
    `/job/${done}/step/resistance`,
    `/job/${done}/bench`,
  ];
  const { settings } = await hub.call({ do: 'settings' });
  const camera = filmOf(t, join(DEMO, 'patch-10.jpg'));
  const phone = await Phone.open(t, hub, { name: 'sheet', camera });
  const { page } = phone;
  const rows = [];
  for (const paper of PAPERS) {
    await hub.call({ do: 'save_settings', settings: { ...settings, paper } });
    await page.goto(`${hub.origin}/#/more`);
    await page.reload();
    await page.locator(`html[data-paper=${paper}]`).waitFor();
    const row = [];
    for (const place of places) {
      await phone.at(place);
      if (place.includes('/camera/')) await page.getByTestId('guidance').waitFor();
      await page.waitForLoadState('networkidle');
      assert.deepEqual(await misfits(page), [], `${place}, ${paper}`);
      row.push(await page.screenshot());
    }
    rows.push(row);
  }
  phone.quiet();
  if (process.env.UPDATE) await drawn(page, rows);
  assert.ok(statSync(SHEET).size <= MOST_BYTES, 'the sheet is small');
});

/** The screens in rows, on a ground of their own, in few colours. */
async function drawn(page, rows) {
  const gap = 12;
  const of = (png) => `<img src="data:image/png;base64,${png.toString('base64')}">`;
  const html = rows.map((row) => `<div>${row.map(of).join('')}</div>`).join('');
  const style = `body{margin:0;padding:${gap}px;background:#8c857a;display:grid;gap:${gap}px;width:max-content}
    div{display:flex;gap:${gap}px}img{width:${WIDE}px;display:block}`;
  await page.setViewportSize({ width: rows[0].length * (WIDE + gap) + gap, height: 800 });
  await page.setContent(`<style>${style}</style>${html}`);
  const folder = mkdtempSync(join(tmpdir(), 'swarfbook-sheet-'));
  const whole = join(folder, 'sheet.png');
  writeFileSync(whole, await page.locator('body').screenshot());
  const few = '[0]split[a][b];[a]palettegen=max_colors=128[p];[b][p]paletteuse=dither=none';
  execFileSync('ffmpeg', ['-loglevel', 'error', '-y', '-i', whole, '-filter_complex', few, SHEET]);
  rmSync(folder, { recursive: true });
}
