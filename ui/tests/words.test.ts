/** Every text stands in the catalogue: no screen has words of its own. */
import { readdirSync, readFileSync } from 'node:fs';
import { parse } from 'svelte/compiler';
import { expect, test } from 'vitest';
import { say, speak } from '../src/words';
import { shortWhen } from '../src/paper/when';
import { turn } from '../src/paper/turn';
import { language, locale, ofBrowser } from '../src/words/language.svelte';

const files = readdirSync('src', { recursive: true, encoding: 'utf8' }).filter((name) =>
  name.endsWith('.svelte'),
);

const SPOKEN = new Set(['aria-label', 'alt', 'title', 'placeholder', 'label', 'hint']);
/** Symbols of units and of a telephone's keys are the same in every language. */
const UNIVERSAL = /^(km|mm|°C|Ω|N·m|\W|\d)*$/u;

interface Node {
  type: string;
  name?: string;
  data?: string;
  [key: string]: unknown;
}

function spoken(node: unknown, found: string[], inScript = false): void {
  if (Array.isArray(node)) return node.forEach((one) => spoken(one, found, inScript));
  if (typeof node !== 'object' || node === null) return;
  const one = node as Node;
  if (one.type === 'Text' && one.data && /\p{L}/u.test(one.data)) found.push(one.data.trim());
  for (const [key, value] of Object.entries(one)) {
    if (key === 'css' || key === 'instance' || key === 'module') continue;
    if (one.type === 'Attribute' && !SPOKEN.has(one.name ?? '')) continue;
    spoken(value, found, inScript);
  }
}

test('there are screens to look at', () => expect(files.length).toBeGreaterThan(40));

test.each(files)('%s has no words of its own', (file) => {
  const tree = parse(readFileSync(`src/${file}`, 'utf8'), { modern: true });
  const found: string[] = [];
  spoken(tree.fragment, found);
  expect(found.filter((text) => !UNIVERSAL.test(text))).toEqual([]);
});

test('the look itself finds words that stand in a screen', () => {
  const found: string[] = [];
  spoken(parse('<p aria-label="Words">Press {here}</p>', { modern: true }).fragment, found);
  expect(found).toEqual(['Words', 'Press']);
});

/** The texts of the screens in a language, by their ids. */
function texts(language: string): Map<string, string> {
  const file = readFileSync(`../core/words/${language}/screens.ftl`, 'utf8');
  const messages = file.split(/\n(?=[a-z])/).map((message) => message.split(/ =\s*/, 2));
  return new Map(messages.map(([id = '', text = '']) => [id.trim(), text.trim()]));
}

const FOLDERS = ['en', 'de', 'es'];
const inEnglish = texts('en');
const inGerman = texts('de');

test.each(FOLDERS)('no text of %s is empty, and none shouts', (folder) => {
  const all = texts(folder);
  expect(all.size).toBeGreaterThan(800);
  for (const [id, text] of all) {
    expect(text, id).not.toBe('');
    expect(text, id).not.toMatch(/!$/m);
  }
});

/** What is shown in the place of each value is shown; one piece is said as one. */
test.each(FOLDERS)('every text of %s can be said', async (folder) => {
  const { FluentBundle, FluentResource } = await import('@fluent/bundle');
  const bundle = new FluentBundle(folder, { useIsolating: false });
  const file = readFileSync(`../core/words/${folder}/screens.ftl`, 'utf8');
  expect(bundle.addResource(new FluentResource(file))).toEqual([]);
  for (const [id, text] of texts('en')) {
    const names = [...text.matchAll(/\$(\w+)/g)].map(([, name]) => name ?? '');
    for (const given of ['⟨…⟩', 0, 1, 2, 21]) {
      const values = Object.fromEntries(names.map((name) => [name, given]));
      const faults: Error[] = [];
      const value = bundle.getMessage(id)?.value;
      if (!value) throw new Error(`${folder} does not say ${id}`);
      const said = bundle.formatPattern(value, values, faults);
      expect([id, faults]).toEqual([id, []]);
      expect(said, id).not.toMatch(/[{}$]|undefined/);
    }
  }
});

/** Names, symbols, and words that both languages have. */
const SAME_IN_BOTH =
  /^(Swarfbook|OL|Text|Status|Code|Filter|VIN|https:\/\/…|\W*|[\d\W]*(%|km|mm|°C|Ω|V|Hz|M\d+|EUR)?[\d\W]*)$/;
/** Those that only join what they are given. */
const JOINS = /^(\{\$\w+\}|[^\p{L}])*$/u;

test('no German text was left in English', () => {
  const left = [...inGerman].filter(
    ([id, text]) => text === inEnglish.get(id) && !SAME_IN_BOTH.test(text) && !JOINS.test(text),
  );
  expect(left).toEqual([]);
});

test('German is quoted and spelled as German', () => {
  for (const [id, text] of inGerman) {
    expect(text, id).not.toMatch(/[“][^„“]*”|[‘’]/);
    expect((text.match(/„/g) ?? []).length, id).toBe((text.match(/“/g) ?? []).length);
    // Digraphs where a letter of its own belongs.
    expect(text, id).not.toMatch(/\b(fuer|ueber|pruef|loesch|Groesse|Oel)/i);
  }
});

test('a count is said in the number of its language', () => {
  const before = language.now;
  expect([0, 1, 2].map((n) => say('jobs-count', { n }))).toEqual(['0 jobs', '1 job', '2 jobs']);
  language.now = 'de';
  const said = [0, 1, 2].map((n) => say('jobs-count', { n }));
  expect(said).toEqual(['0 Aufträge', '1 Auftrag', '2 Aufträge']);
  expect(say('readings-meter-says', { name: 'A', percent: 0.5, counts: 2 })).toContain('0,5');
  language.now = before;
});

test('a language that the browser wants and the book has is spoken, else English', () => {
  expect(ofBrowser(['de-AT', 'en'])).toBe('de');
  expect(ofBrowser(['fr', 'de', 'en'])).toBe('de');
  expect(ofBrowser(['fr'])).toBe('en');
});

test('a change of language changes the words, the dates and the marks of numbers', async () => {
  const before = language.now;
  await speak('de');
  expect(say('thumb-undo')).toBe(inGerman.get('thumb-undo'));
  expect(locale(['en-US', 'de-CH'])).toBe('de-CH');
  expect(shortWhen('2024-05-03T09:41:00+02:00', new Date('2024-08-01'))).toBe('3. Mai');
  expect(turn('1,5', 0.1, 0, 9)).toBe('1,6');
  await speak('en');
  expect(say('thumb-undo')).toBe(inEnglish.get('thumb-undo'));
  expect(shortWhen('2024-05-03T09:41:00+02:00', new Date('2024-08-01'))).toMatch(/May/);
  expect(turn('1.5', 0.1, 0, 9)).toBe('1.6');
  language.now = before;
});
