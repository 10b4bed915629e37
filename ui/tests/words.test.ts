/** Every text stands in the catalogue: no screen has words of its own. */
import { readdirSync, readFileSync } from 'node:fs';
import { parse } from 'svelte/compiler';
import { expect, test } from 'vitest';
import { words } from '../src/words';
import { de } from '../src/words/de';
import { en } from '../src/words/en';
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

function texts(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(texts);
}

test.each([en, de])('no text of the catalogue is empty, and none shouts', (catalogue) => {
  for (const text of texts(catalogue)) {
    expect(text.trim()).not.toBe('');
    expect(text).not.toMatch(/!$/);
  }
});

/** Values that a text may be given, one kind each; a text that joins them shows every one. */
const GIVEN: unknown[] = ['⟨1⟩', '⟨2⟩', '⟨3⟩', '⟨4⟩'];
const WANTS = [
  { kind: 'codes', moment: 'before' },
  { kind: 'codes', moment: 'after' },
  { kind: 'readings', quantity: 'voltage' },
  { kind: 'replace', what: '⟨1⟩' },
  { kind: 'tighten', what: '⟨1⟩' },
  { kind: 'text', label: '⟨1⟩' },
  ...['car', 'complaint', 'go_ahead', 'parts_off', 'parts_back', 'census', 'components'].map(
    (kind) => ({ kind }),
  ),
  ...['explains', 'decision', 'report'].map((kind) => ({ kind })),
];
/** Those that choose between texts by what they are given, with all that they can be given. */
const CHOICES: Record<string, unknown[][]> = {
  'want.label': WANTS.map((want) => [want]),
  'readings.field': ['sample', 'leads', 'part', 'top'].flatMap((field) => [
    [field, '⟨1⟩'],
    [field, ''],
  ]),
  'bench.suggest': ['on_off_solenoid', 'temperature_sensor', 'speed_sensor', 'other'].map((k) => [
    k,
  ]),
  'help.notYet': [
    ['subject', 0],
    ['fluid', 0],
    ['taps', 0],
    ['taps', 1],
    ['taps', 2],
  ],
  // Their figures are rounded or written in the language's own way.
  'readings.meterSays': [['⟨1⟩', 1, 3]],
  'pan.share': [[0.25]],
  'report.fileName': [
    ['', 'html'],
    ['A 1', 'pdf'],
  ],
  'procedures.says': [
    [1, 2, true],
    [1, 2, false],
  ],
};
const NUMBERS: unknown[][] = [
  [0, 0, 0, 0, 0],
  [1, 1, 1, 1, 1],
  [1, 2, 3, 4, 5],
  [7, 'Text', 8, 9, 10],
];

/** Every text by its path; those with places as they come out for each way of filling them. */
function spelled(value: unknown, path: string[], into: Map<string, string>): Map<string, string> {
  if (typeof value === 'string') into.set(path.join('.'), value);
  else if (typeof value === 'function') {
    const at = path.join('.');
    for (const given of CHOICES[at] ?? [GIVEN, ...NUMBERS]) {
      const says = (value as (...given: unknown[]) => unknown)(...given);
      into.set(`${at}(${JSON.stringify(given)})`, JSON.stringify(says));
    }
  } else if (typeof value === 'object' && value !== null) {
    for (const [key, one] of Object.entries(value)) spelled(one, [...path, key], into);
  }
  return into;
}

const inEnglish = spelled(en, [], new Map());
const inGerman = spelled(de, [], new Map());
const places = (text: string): string[] => (text.match(/⟨\d⟩|\d+/g) ?? []).sort();

test('the German catalogue has the texts of the English one, no more and no fewer', () => {
  expect([...inGerman.keys()].sort()).toEqual([...inEnglish.keys()].sort());
  expect(inGerman.size).toBeGreaterThan(500);
});

/** Where German writes other figures than English, and why. */
const OTHER_FIGURES = /^(goAhead\.currencies)/; // its own usual currencies

test('a German text shows all that the English one shows', () => {
  for (const [at, text] of inGerman) {
    if (OTHER_FIGURES.test(at)) continue;
    // 10,000 and 10.000 are the same figure.
    const plain = (one: string) => one.replace(/(\d)[.,](\d{3})\b/g, '$1$2');
    expect(places(plain(text)), at).toEqual(places(plain(inEnglish.get(at) ?? '')));
  }
});

/** Names, symbols, and words that both languages have. */
const SAME_IN_BOTH =
  /^"?(Swarfbook|OL|Text|Status|Code|Filter|VIN|https:\/\/…|\W*|[\d\W]*(%|km|mm|°C|Ω|V|Hz|M\d+|EUR)?[\d\W]*)"?$/;
const SAME_KEYS =
  /^(.*\.id|tour\.pages\.\d\.drawing|limits\.units\..*|parts\.sizes\..*|goAhead\.currencies.*|spine\.knot.*|want\.row.*|readings\.(plot|meterSays|field|row).*|spine\.step.*|parts\.(say|photoOf).*|want\.label\(.*label.*|customer\.by.*)$/;

test('no German text was left in English', () => {
  const left = [...inGerman].filter(
    ([at, text]) => text === inEnglish.get(at) && !SAME_IN_BOTH.test(text) && !SAME_KEYS.test(at),
  );
  expect(left).toEqual([]);
});

test('German is quoted and spelled as German', () => {
  for (const [at, text] of inGerman) {
    expect(text, at).not.toMatch(/[“][^„“]*”|[‘’]/);
    expect((text.match(/„/g) ?? []).length, at).toBe((text.match(/“/g) ?? []).length);
    // Digraphs where a letter of its own belongs.
    expect(text, at).not.toMatch(/\b(fuer|ueber|pruef|loesch|Groesse|Oel)/i);
  }
});

test('a language that the browser wants and the book has is spoken, else English', () => {
  expect(ofBrowser(['de-AT', 'en'])).toBe('de');
  expect(ofBrowser(['fr', 'de', 'en'])).toBe('de');
  expect(ofBrowser(['fr'])).toBe('en');
});

test('a change of language changes the words, the dates and the marks of numbers', () => {
  const before = language.now;
  language.now = 'de';
  expect(words.thumb.undo).toBe(de.thumb.undo);
  expect(locale(['en-US', 'de-CH'])).toBe('de-CH');
  expect(shortWhen('2024-05-03T09:41:00+02:00', new Date('2024-08-01'))).toBe('3. Mai');
  expect(turn('1,5', 0.1, 0, 9)).toBe('1,6');
  language.now = 'en';
  expect(words.thumb.undo).toBe(en.thumb.undo);
  expect(shortWhen('2024-05-03T09:41:00+02:00', new Date('2024-08-01'))).toMatch(/May/);
  expect(turn('1.5', 0.1, 0, 9)).toBe('1.6');
  language.now = before;
});
