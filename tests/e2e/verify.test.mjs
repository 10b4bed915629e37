// The page that checks a report: offline, by a person who has nothing but two files.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { chromium } from 'playwright-core';
import { BIN, Hub } from './support/hub.mjs';

const run = promisify(execFile);

/** A browser at phone size without a network, at the address. */
async function offline(t, address, { locale = 'en-GB' } = {}) {
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox'],
  });
  t.after(() => browser.close());
  const context = await browser.newContext({ viewport: { width: 412, height: 915 }, locale });
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  page.wrong = [];
  page.on('console', (said) => said.type() === 'error' && page.wrong.push(said.text()));
  page.on('pageerror', (error) => page.wrong.push(String(error)));
  await page.goto(address);
  await context.setOffline(true);
  return page;
}

/** What the page says of a file. */
async function told(page, name, bytes) {
  await page.setInputFiles('#file', { name, mimeType: 'application/octet-stream', buffer: Buffer.from(bytes) });
  await page.waitForSelector('#answer h2');
  return page.innerText('#answer');
}

/** The shop's page and a print, and what `swarfbook verify` says of the key. */
async function reports(hub) {
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const files = { html: join(hub.files, 'report.html'), pdf: join(hub.files, 'report.pdf') };
  for (const file of Object.values(files)) {
    await run(BIN, ['report', jobs[0].id, '--data', hub.data, '--out', file]);
  }
  const { stdout } = await run(BIN, ['verify', files.html, '--data', hub.data]);
  const digits = stdout.match(/Key:\s+((?:[0-9a-f]{4} ?){5})/)[1].trim();
  return { html: readFileSync(files.html), pdf: readFileSync(files.pdf), digits };
}

test('a report is whole, or the part that was changed is named', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { html, pdf, digits } = await reports(hub);
  const file = join(hub.files, 'verify.html');
  await run(BIN, ['verifier', '--out', file]);
  const page = await offline(t, pathToFileURL(file).href);

  for (const [name, bytes] of [['report.html', html], ['report.pdf', pdf]]) {
    const said = await told(page, name, bytes);
    assert.match(said, /Whole\. Every part is as it was signed\./);
    assert.ok(said.includes(digits), said);
    assert.match(said, /demonstration/);
  }
  await page.fill('#told', digits.toUpperCase().replaceAll(' ', ''));
  assert.match(await page.innerText('.verdict'), /The same digits/);
  await page.fill('#told', digits.slice(0, 9));
  assert.match(await page.innerText('.verdict'), /not all of them/);
  await page.fill('#told', '0000 0000 0000 0000 0000');
  assert.match(await page.innerText('.verdict'), /another key/);

  const text = html.toString();
  const changed = text.replace('Condition report</h1>', 'Fine report</h1>');
  assert.match(await told(page, 'a.html', changed), /Not as it was signed[^]*Changed since it was signed: the head\./);
  const advice = text.replace(/(<h2 id="advice">[^]*?<p[^>]*>)/, '$1All is well. ');
  assert.notEqual(advice, text);
  assert.match(await told(page, 'b.html', advice), /Changed since it was signed: What we advise\./);
  const byte = Buffer.from(pdf);
  byte[Math.floor(byte.length / 2)] ^= 1;
  assert.match(await told(page, 'c.pdf', byte), /Not as it was signed[^]*Changed since it was signed/);
  // After a bad one, a good one is good.
  assert.match(await told(page, 'report.html', html), /Whole\./);
  assert.deepEqual(page.wrong, []);
});

test('a report that another key signed is whole, and the digits tell', async (t) => {
  const [shop, stranger] = [await Hub.start(t, { demo: true }), await Hub.start(t, { demo: true })];
  const [own, forged] = [await reports(shop), await reports(stranger)];
  assert.notEqual(own.digits, forged.digits);
  const page = await offline(t, `${shop.origin}/verify`);
  const said = await told(page, 'report.html', forged.html);
  assert.match(said, /Whose key is it\?/);
  await page.fill('#told', own.digits);
  assert.match(await page.innerText('.verdict'), /signed with another key/);
  assert.deepEqual(page.wrong, []);
});

test('files made to harm get a clear word, and none runs as markup', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { html } = await reports(hub);
  const page = await offline(t, `${hub.origin}/verify`);
  const text = html.toString();
  const begin = text.indexOf('<pre id="seal"');
  const end = text.indexOf('</pre>', begin) + 6;
  const seal = text.slice(begin, end);
  for (const [name, bytes, wanted] of [
    ['empty', '', /no seal/],
    ['noise', Buffer.alloc(300_000, 0xa5), /no seal/],
    ['header', '%PDF-1.7\n', /no seal/],
    ['a preview', text.replace(seal, ''), /no seal/],
    ['two seals', text.replace(seal, seal + seal), /no seal/],
    ['a broken seal', text.replace(seal, seal.slice(0, 80) + '</pre>'), /seal was changed/],
    ['a seal of zeros', text.replace(seal, `<pre id="seal" hidden="hidden">${'A'.repeat(400_000)}</pre>`), /seal was changed/],
    [
      'markup as a name',
      text.replace('<section', '<section><h2><img src=x onerror="document.title=1"></h2></section><section'),
      /Put in since it was signed: <img src=x/,
    ],
    ['a very long name', text.replace('<section', `<section><h2>${'x'.repeat(1_000_000)}</h2></section><section`), /Put in since/],
    ['many sections', text.replace('<section', '<section><h2>a</h2></section>'.repeat(50_000) + '<section'), /Not as it was/],
  ]) {
    const said = await told(page, `${name}.html`, bytes);
    assert.match(said, wanted, name);
    assert.doesNotMatch(said, /Whole/, name);
    assert.ok(said.length < 4_000, `${name}: ${said.length} letters`);
  }
  assert.equal(await page.title(), 'Is this report whole?');
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 412, `${wide} px wide`);
  assert.deepEqual(page.wrong, []);
});

test('the hub shows the page to anybody, under a policy that lets it fetch nothing', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const answer = await fetch(`${hub.origin}/verify`);
  assert.equal(answer.status, 200);
  const policy = answer.headers.get('content-security-policy');
  assert.match(policy, /default-src 'none'/);
  assert.doesNotMatch(policy, /unsafe-inline|'self'|connect-src/);
  assert.doesNotMatch(await answer.text(), /https?:\/\//);
  const page = await offline(t, `${hub.origin}/verify`, { locale: 'de-DE' });
  assert.match(await page.innerText('h1'), /unverändert/);
  assert.deepEqual(page.wrong, []);
});
