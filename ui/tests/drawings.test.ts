/** Each step of the procedure that ships has a drawing of ours, small enough, in our one style. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { drawingOf, stageMark } from '../src/drawings';
import { svgOf } from '../src/drawings/mark';
import { anyStage } from '../src/drawings/stages';

/** The most that a drawing may weigh, bytes. */
const MOST = 4096;

const procedure = readFileSync('../core/job/procedures/pan-service-electrical.toml', 'utf8');
const ids = (kind: string): string[] =>
  procedure
    .split(`[[${kind}]]`)
    .slice(1)
    .flatMap((text) => /^\s*(?:#.*\s)*id = "([a-z-]+)"/.exec(text)?.[1] ?? []);
const steps = ids('stage.step');

test('the procedure is read as it ships', () => {
  expect(steps).toHaveLength(36);
  expect(ids('stage')).toHaveLength(10);
});

test.each(steps)('the step %s has a drawing of at most 4 KB', (step) => {
  const drawing = drawingOf(step);
  expect(drawing).toBeDefined();
  const file = svgOf(drawing ?? []);
  expect(new TextEncoder().encode(file).length).toBeLessThanOrEqual(MOST);
  // Both papers: no colour of its own, and nothing but outlines of ours in it.
  expect(file).not.toMatch(/#[0-9a-f]{3}|rgb|<text|<image|NaN|undefined/i);
  expect(file.match(/<path /g)?.length ?? 0).toBeGreaterThan(2);
});

test('no two steps have the same drawing, and another name has none', () => {
  expect(new Set(steps.map((step) => svgOf(drawingOf(step) ?? []))).size).toBe(steps.length);
  expect(drawingOf('no-such-step')).toBeUndefined();
  expect(drawingOf('constructor')).toBeUndefined();
});

test.each(ids('stage'))('the stage %s has a mark of its own', (stage) => {
  expect(stageMark(stage)).not.toBe(anyStage);
});

test('a stage of a shop’s own has the mark that any has', () => {
  expect(stageMark('our-own')).toBe(anyStage);
});
