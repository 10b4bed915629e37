// The report's page on a small phone, in each language: nothing of it lies beyond the edge.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const WIDTHS = [360, 412];

/** Each demo job's report in each language, shown on one page. */
async function* previews(t, name) {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const { page } = await Phone.open(t, hub, { name });
  for (const language of ['en', 'de', 'es']) {
    for (const { id: job, title } of jobs) {
      const { html } = await hub.call({ do: 'preview_report', job, leave_out: {}, language });
      await page.setContent(html);
      yield { page, title, language };
    }
  }
}

test('the report is as wide as the phone in every language', async (t) => {
  for await (const { language, page } of previews(t, 'report-fits')) {
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
});

/** A phone of today, and the smallest that is still sold; css px. */
const PHONES = [
  { width: 412, height: 915 },
  { width: 360, height: 800 },
];
const MOST_SCREENFULS = 3;

test('the first page is no more than three screenfuls on a phone, however much there is to say', async (t) => {
  const all = [];
  for await (const { title, language, page } of previews(t, 'report-page-one')) {
    for (const phone of PHONES) {
      await page.setViewportSize(phone);
      const top = await page.evaluate(async () => {
        await Promise.all([...document.images].map((image) => image.decode()));
        return document.querySelector('section.row.page').getBoundingClientRect().top + scrollY;
      });
      const screenfuls = top / phone.height;
      all.push(screenfuls);
      t.diagnostic(`${title}, ${language}, ${phone.width} x ${phone.height}: ${screenfuls.toFixed(2)} screenfuls`);
      assert.ok(screenfuls <= MOST_SCREENFULS, `${title}, ${language}, ${phone.width} px: ${screenfuls.toFixed(2)}`);
    }
  }
  // The job that has little to say, and the one that has much.
  assert.ok(Math.min(...all) < 1.5 && Math.max(...all) > 2, `${Math.min(...all)} to ${Math.max(...all)}`);
});

test('on a phone no word of the table of readings is parted, and none runs beside a narrow column', async (t) => {
  for await (const { title, language, page } of previews(t, 'report-table')) {
    for (const phone of PHONES) {
      await page.setViewportSize(phone);
      const narrow = await page.evaluate(() => {
        const cells = [...document.querySelectorAll('section[aria-labelledby=measured] :is(td, th[scope=row])')];
        // A column of its own would be a quarter of the page.
        const least = document.querySelector('main').clientWidth * 0.8;
        return cells.filter((cell) => cell.clientWidth < least).map((cell) => cell.textContent.trim());
      });
      assert.deepEqual(narrow, [], `${title}, ${language}, ${phone.width} px`);
    }
  }
});
