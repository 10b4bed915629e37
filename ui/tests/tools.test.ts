/** Numbers of tools are asked once a tool, in the settings. */
import { fireEvent, render, screen, waitFor } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import Settings from '../src/screens/Settings.svelte';
import { session } from '../src/state/session.svelte';
import { thumb } from '../src/state/thumb.svelte';
import { openDoor } from './support/door';
import { METER, start } from './support/sample';

test('serial numbers, days and the card’s line are saved with their tool', async () => {
  const door = openDoor({ save_settings: ({ settings }) => ({ reply: 'settings', settings }) });
  session.start = start({ settings: { ...start().settings, meter: METER } });
  render(Settings, { props: { start: session.start } });
  const type = (label: string, value: string) =>
    fireEvent.input(screen.getByLabelText(label), { target: { value } });
  await type(`Serial number: ${METER.name}`, 'INV-0042');
  await type(`Calibrated on: ${METER.name}`, '2026-02-11');
  await type('Serial number: current clamp', 'INV-0044');
  await type('Calibrated on: current clamp', '2026-02-13');
  await type('Serial number: torque wrench', 'INV-0043');
  await type('The line of 150 mm on the gauge card’s sheet, as you measure it', '150.2');
  await type('Measured on', '2026-02-12');
  thumb.action?.run();
  await waitFor(() => expect(door.of('save_settings')).toHaveLength(1));
  expect(door.of('save_settings')[0]?.settings.tools).toEqual({
    meters: { [METER.name]: { serial: 'INV-0042', calibrated: '2026-02-11' } },
    clamp: { serial: 'INV-0044', calibrated: '2026-02-13' },
    wrench: { serial: 'INV-0043', calibrated: null },
    card: { line_mm: 150.2, day: '2026-02-12' },
  });
});
