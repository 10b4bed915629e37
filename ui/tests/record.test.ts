/** How often the machine was right: read, and calibration switched on and off. */
import { render, screen } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import App from '../src/App.svelte';
import type { RecordView } from '../src/door/types/RecordView';
import { swap } from '../src/state/route.svelte';
import { openDoor } from './support/door';
import { start } from './support/sample';

const record: RecordView = {
  words: '412 pieces looked at, 391 right: 95 %, 92 to 97.',
  notes: ['21 were wrong.'],
  by_class: [{ class: 'lining', label: 'lining', words: '80 of 88 right: 91 %, 84 to 95' }],
  by_size: [{ class: null, label: '0.4 to 0.6 mm', words: '120 of 130 right: 92 %, 87 to 96' }],
  cited: null,
  repeats: [],
  repeat_offer: 'Take three photos of one patch.',
  calibrated: false,
  calibration: ['Ten numbers.'],
};

test('the record is read, and calibration is the shop’s to switch on', async () => {
  let calibrated = false;
  const door = openDoor({
    start: () => ({ reply: 'start', start: start() }),
    record: () => ({ reply: 'record', record: { ...record, calibrated } }),
    save_settings: ({ settings }) => {
      calibrated = settings.calibrated;
      return { reply: 'settings', settings };
    },
  });
  swap('/record');
  render(App);
  await screen.findByText(record.words);
  for (const said of ['lining', '0.4 to 0.6 mm', 'Take three photos of one patch.']) {
    expect(screen.getByText(said)).toBeTruthy();
  }
  const key = (name: string) => screen.getByRole('button', { name: new RegExp(name) });
  expect(key('No').getAttribute('aria-pressed')).toBe('true');
  await new Promise((done) => setTimeout(done, 700));
  key('Yes').click();
  await expect.poll(() => key('Yes').getAttribute('aria-pressed')).toBe('true');
  // Nothing else of how the device is set has changed.
  expect(door.of('save_settings').map((one) => one.settings)).toEqual([
    { ...start().settings, calibrated: true },
  ]);
});
