/** The table of screens: the list of more leads to each that has a word there. */
import { render, screen } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import { route, swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import Jobs from '../src/screens/Jobs.svelte';
import More from '../src/screens/More.svelte';
import { screenAt, screens } from '../src/screens/table';
import { openDoor } from './support/door';
import { start } from './support/sample';

test('the list of more leads to every screen that has a word in it', () => {
  openDoor({});
  session.start = start();
  render(More);
  const named = screens.filter((one) => one.word);
  expect(named.length).toBeGreaterThan(4);
  for (const { at, word } of named) {
    swap('/more');
    screen.getByRole('button', { name: word?.() ?? '' }).click();
    expect(route.now.screen).toBe(at);
  }
});

test('each address has one screen, and one that nobody knows leads to the jobs', () => {
  expect(new Set(screens.map((one) => one.at)).size).toBe(screens.length);
  expect(screenAt('nowhere')).toBe(Jobs);
  expect(screenAt('more')).toBe(More);
});
