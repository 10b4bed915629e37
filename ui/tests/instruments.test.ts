/** The tools of this device: each with what a report can say of it, and what it can't. */
import { render, screen, within } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import Instruments from '../src/screens/Instruments.svelte';
import { session } from '../src/state/session.svelte';
import { thumb } from '../src/state/thumb.svelte';
import { route } from '../src/state/route.svelte';
import { openDoor } from './support/door';
import { METER, start } from './support/sample';

/** Name and value of each row below a tool. */
function told(tool: string): string[] {
  const of = screen.getByRole('heading', { name: tool }).closest('li')!;
  return within(of)
    .getAllByRole('definition')
    .map((value) => value.textContent.trim());
}

test('every tool that is known is shown, with what is not stated of it', () => {
  openDoor({});
  const settings = start().settings;
  const tools = {
    meters: { 'bench meter': { serial: 'INV-0042', calibrated: '2026-02-11' } },
    wrench: { serial: 'INV-0043', calibrated: null },
    card: { line_mm: 150.2, day: '2026-02-12' },
  };
  session.start = start({ settings: { ...settings, meter: METER, tools } });
  render(Instruments);
  expect(told('bench meter')).toEqual(['INV-0042', expect.stringMatching(/Feb.*2026/)]);
  expect(told('torque wrench')).toEqual(['INV-0043', 'not stated']);
  expect(told('current clamp')).toEqual(['not stated', 'not stated']);
  // The meter in use, of which nobody wrote anything yet.
  expect(told(METER.name)).toEqual(['not stated', 'not stated']);
  expect(told('Gauge card')).toEqual(['150.2 mm', expect.stringMatching(/Feb.*2026/)]);
  thumb.action?.run();
  expect(route.now.screen).toBe('settings');
});
