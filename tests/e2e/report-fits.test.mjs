// The report's page on a small phone, in each language: nothing of it lies beyond the edge.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const WIDTHS = [360, 412];

test('the report is as wide as the phone in every language', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const { page } = await Phone.open(t, hub, { name: 'report-fits' });
  for (const language of ['en', 'de', 'es']) {
    for (const { id: job } of jobs) {
      const { html } = await hub.call({ do: 'preview_report', job, leave_out: {}, language });
      await page.setContent(html);
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 740 });
        const beyond = await page.evaluate(() => {
          const edge = document.documentElement.clientWidth;
          const all = [...document.body.querySelectorAll('*')];
          // A photo is cut to what it shows by the frame that it lies in.
          const cut = (one) => getComputedStyle(one).overflowX !== 'visible';
          const seen = (one) => one === document.body || (!cut(one.parentElement) && seen(one.parentElement));
          const wide = all.filter((one) => one.getBoundingClientRect().right > edge + 0.5 && seen(one));
          // Of those that lie in one another the outermost.
          const outer = wide.filter((one) => !wide.includes(one.parentElement));
          return outer.map((one) => `${one.tagName} ${one.textContent.trim().slice(0, 40)}: ${Math.round(one.getBoundingClientRect().right)} of ${edge}`);
        });
        assert.deepEqual(beyond, [], `${language}, ${width} px`);
      }
    }
  }
});
