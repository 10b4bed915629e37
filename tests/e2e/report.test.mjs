// The report as a file: by an HTML validator, by a readability figure, and by the check of its seal.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { promisify } from 'node:util';
import { fleschKincaid } from 'flesch-kincaid';
import { HtmlValidate } from 'html-validate';
import { syllable } from 'syllable';
import { BIN, Hub } from './support/hub.mjs';
import { Phone } from './support/phone.mjs';

const run = promisify(execFile);

// The page is well-formed XML too, since the PDF is set from it; that asks for closed void elements.
const RULES = new HtmlValidate({
  extends: ['html-validate:standard'],
  rules: { 'void-style': ['error', { style: 'selfclose' }], 'no-inline-style': 'off', 'long-title': 'off' },
});

test('the validator is at work: a slip is found', async () => {
  const { valid } = await RULES.validateString('<p><div>a</p>');
  assert.equal(valid, false);
});

test('each demo report is valid, plain, and whole', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  assert.equal(jobs.length, 3);
  for (const { id, title } of jobs) {
    const { html } = await hub.call({ do: 'make_report', job: id });
    const { results } = await RULES.validateString(html);
    const told = results.flatMap(({ messages }) =>
      messages.map(({ ruleId, message, line, column }) => `${line}:${column} ${ruleId}: ${message}`),
    );
    assert.deepEqual(told, [], title);
    assert.ok(!/<script|<link|https?:\/\/(?!www\.w3\.org\/2000\/svg)/.test(html), title);
    assert.ok(html.length < 3_000_000, `${title}: ${html.length} bytes`);

    const file = join(hub.files, 'report.html');
    writeFileSync(file, html);
    const { stdout } = await run(BIN, ['verify', file, '--data', hub.data]);
    assert.match(stdout, /Whole/);
    writeFileSync(file, html.replace('Condition report</h1>', 'Fine report</h1>'));
    await assert.rejects(run(BIN, ['verify', file]), /Changed since it was signed: the head/);

    const paper = join(hub.files, 'report.pdf');
    await run(BIN, ['report', id, '--data', hub.data, '--out', paper, '--paper', 'letter']);
    await run(BIN, ['verify', paper, '--data', hub.data]);
    const bytes = readFileSync(paper);
    bytes[Math.floor(bytes.length / 2)] ^= 1;
    writeFileSync(paper, bytes);
    await assert.rejects(run(BIN, ['verify', paper]), /Changed since it was signed/);
  }
});

test('the answer and the advice are for a reader of twelve', async (t) => {
  const hub = await Hub.start(t, { demo: true });
  const { jobs } = await hub.call({ do: 'jobs', search: '', skip: 0, limit: 9 });
  const phone = await Phone.open(t, hub, { name: 'report-words' });
  for (const { id, title } of jobs) {
    const { html } = await hub.call({ do: 'preview_report', job: id });
    await phone.page.setContent(html);
    const sentences = await phone.page.evaluate(() => {
      const parts = document.querySelectorAll(
        'section[aria-labelledby=short] p, section[aria-labelledby=advice] p, section[aria-labelledby=not-done] li',
      );
      return [...parts].map((part) => part.textContent.replace(/\[\d+\]/g, '').trim());
    });
    const words = sentences.flatMap((text) => text.match(/\p{L}[\p{L}’']*/gu) ?? []);
    const count = sentences.flatMap((text) => text.split(/[.!?:;]\s|[.!?]$/).filter(Boolean)).length;
    const grade = fleschKincaid({
      sentence: count,
      word: words.length,
      syllable: words.reduce((sum, word) => sum + syllable(word), 0),
    });
    t.diagnostic(`${title}: Flesch-Kincaid grade ${grade.toFixed(1)} over ${words.length} words`);
    // Grade 7 is the school year of twelve-year-olds where the figure comes from.
    assert.ok(grade <= 7, `${title}: grade ${grade.toFixed(1)}`);
  }
});
