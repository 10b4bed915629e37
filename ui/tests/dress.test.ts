/** The screens speak the language that the device is set to, fetched before it is spoken. */
import { readFileSync } from 'node:fs';
import { beforeEach, expect, test, vi } from 'vitest';
import type { Settings } from '../src/door/types/Settings';
import { start } from './support/sample';

// The messages as a device has them that has only just begun: English alone.
beforeEach(() => vi.resetModules());

test.each(['de', 'es'] as const)('a device that is set to %s shows its words', async (tag) => {
  const { dress } = await import('../src/state/dress');
  const { say } = await import('../src/words');
  const file = readFileSync(`../core/words/${tag}/screens.ftl`, 'utf8');
  const undo = /^thumb-undo = (.+)$/m.exec(file)?.[1];
  expect(undo).toBeTruthy();
  expect(say('thumb-undo')).not.toBe(undo);
  const settings: Settings = { ...start().settings, language: tag };
  dress(settings);
  await vi.waitFor(() => expect(say('thumb-undo')).toBe(undo));
});
