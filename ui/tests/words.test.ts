/** Every text stands in the catalogue: no screen has words of its own. */
import { readdirSync, readFileSync } from 'node:fs';
import { parse } from 'svelte/compiler';
import { expect, test } from 'vitest';
import { en } from '../src/words/en';

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

test('no text of the catalogue is empty, and none shouts', () => {
  for (const text of texts(en)) {
    expect(text.trim()).not.toBe('');
    expect(text).not.toMatch(/!$/);
  }
});
