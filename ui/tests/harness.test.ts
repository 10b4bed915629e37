/** The wires of a part, and a part with voltage on it: typed, written once, drawn. */
import { render, screen, waitFor, within } from '@testing-library/svelte';
import { expect, test } from 'vitest';
import type { HarnessView } from '../src/door/types/HarnessView';
import type { StretchCall } from '../src/door/types/StretchCall';
import type { WantView } from '../src/door/types/WantView';
import HarnessPlot from '../src/plots/HarnessPlot.svelte';
import JobScreen from '../src/screens/JobScreen.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { openDoor, type Door } from './support/door';
import { job, JOB, METER, solenoid, stage, start, step } from './support/sample';

const part = { ...solenoid, codes: ['P0753'] };

let shown = 0;
function show(place: string, wants: WantView[] = [], components = [part]): Door {
  const id = `${JOB}-harness-${(shown += 1)}`;
  const view = job([stage(1, [step('a', wants)])], { id, components });
  session.start = start({ settings: { ...start().settings, meter: METER } });
  session.job = null;
  session.trouble = null;
  const door = openDoor({
    job: () => ({ reply: 'job', job: view }),
    read_numbers: ({ typed }) => ({ reply: 'numbers', numbers: typed.map(() => null) }),
    write: () => ({ reply: 'written', entry: 'e', job: view }),
  });
  swap(`/job/${id}${place}`);
  render(JobScreen, { props: { id } });
  return door;
}
const next = () => screen.getByTestId<HTMLButtonElement>('next');
const says = (text: string) => waitFor(() => expect(next().textContent.trim()).toBe(text));
async function type(text: string): Promise<void> {
  const pad = await screen.findByRole('group', { name: 'Number keys' });
  for (const key of text === 'OL' ? ['OL'] : [...text]) {
    const name = key === '.' ? 'point' : key === 'OL' ? /OL|open/i : key;
    within(pad).getByRole('button', { name }).click();
  }
}

test('the matrix is typed look by look and written once, by a press that says how many', async () => {
  const door = show('/harness/part');
  await screen.findByRole('heading', { name: 'Wires: Solenoid A' });
  await says('Read: Pin 1 to pin 2');
  for (const [text, after] of [
    ['13.2', 'Pin 1 to ground'],
    ['OL', 'Pin 2 to ground'],
    ['OL', 'The part, pin to pin'],
    ['12.8', 'The part, pin 1 to ground'],
  ] as const) {
    await type(text);
    await says(`Next: ${after}`);
    expect(door.of('write')).toHaveLength(0);
    next().click();
  }
  // What is there can be written before all was read.
  (await screen.findByRole('button', { name: 'Write: 4 numbers' })).click();
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toEqual({
    fact: 'harness_read',
    component: 'part',
    read: {
      pins: ['', ''],
      control: { across: '13.2', to_ground: ['OL', 'OL'] },
      part: { across: '12.8', to_ground: [null, null] },
      wires: [null, null],
      leads: null,
      meter: METER,
    },
  });
});

const stretch = (call: StretchCall, words: string, either = false) => ({ call, words, either });
const sound: HarnessView = {
  read: {
    pins: ['', ''],
    control: { across: null, to_ground: [null, null] },
    part: { across: null, to_ground: [null, null] },
    wires: [null, null],
    leads: null,
    meter: METER,
  },
  wires: [stretch('sound', 'first wire: sound'), stretch('sound', 'second wire: sound')],
  between: stretch('sound', 'between the wires: sound'),
  part: stretch('sound', 'the part: sound'),
  next: null,
};

test('each fault is drawn in its own way, and said beside the drawing', () => {
  const drawn = (harness: HarnessView): string => {
    const { container, unmount } = render(HarnessPlot, { props: { harness } });
    const svg = container.querySelector('svg')!;
    expect(svg.getAttribute('aria-label')).toContain(harness.wires[0].words);
    const paths = svg.innerHTML;
    unmount();
    return paths;
  };
  const calls: StretchCall[] = ['not_told', 'sound', 'open', 'resistive', 'to_ground'];
  const wires = calls.flatMap((call) => [
    drawn({ ...sound, wires: [stretch(call, 'first wire: x'), sound.wires[1]] }),
    drawn({ ...sound, wires: [sound.wires[0], stretch(call, 'second wire: x', call === 'open')] }),
  ]);
  const others = [
    drawn({ ...sound, between: stretch('together', 'between the wires: x') }),
    drawn({ ...sound, part: stretch('open', 'the part: x') }),
    drawn({ ...sound, part: stretch('to_ground', 'the part: x') }),
  ];
  // A sound first wire and a sound second one are one drawing; all others differ.
  expect(new Set([...wires, ...others]).size).toBe(wires.length + others.length - 1);
});

test('wires whose pins have one name are both said', () => {
  const twice = stretch('sound', 'wire of pin 14: sound');
  render(HarnessPlot, { props: { harness: { ...sound, wires: [twice, twice] } } });
  expect(screen.getAllByText('wire of pin 14: sound')).toHaveLength(2);
});

test('volts, what the amperes are read by and the click go with the amperes, and are of one part', async () => {
  const want: WantView = {
    kind: 'readings',
    quantity: 'applied',
    optional: false,
    have: false,
    words: '',
    value: null,
    measures: null,
    offers: [],
  };
  const door = show('', [want]);
  await says('Volts at Solenoid A');
  await type('12.4');
  await says('What are the amperes read by?');
  (await screen.findByRole('button', { name: 'Clamp' })).click();
  await says('Now the reading');
  next().click();
  await says('Read Solenoid A');
  await type('0.91');
  (await screen.findByRole('button', { name: 'Click heard' })).click();
  await says('0.91, three times alike');
  expect(door.of('write')).toHaveLength(0);
  next().click();
  await waitFor(() => expect(door.of('write')).toHaveLength(1));
  expect(door.of('write')[0]?.fact).toMatchObject({
    reading: {
      quantity: 'applied',
      samples: ['0.91', '0.91', '0.91'],
      applied: { volts: '12.4', by: 'clamp', click: true },
      leads: null,
    },
  });
  // The next part's volts are its own; the clamp is still the clamp.
  await says('Volts at Solenoid A');
  expect(screen.getByRole('button', { name: /Clamp/ }).getAttribute('aria-pressed')).toBe('true');
  await type('12.3');
  next().click();
  const click = await screen.findByRole('button', { name: /Click heard/ });
  expect(click.getAttribute('aria-pressed')).toBe('false');
});

test('wires are offered of parts that have some', async () => {
  const others = [
    { kind: 'pressure_port', name: 'Test port', entry: 'port' },
    { kind: 'converter', name: 'Converter', entry: 'converter' },
    { kind: 'switch', name: 'Switch', entry: 'switch' },
  ] as const;
  show('/bench', [], [part, ...others.map((other) => ({ ...part, ...other }))]);
  await screen.findByRole('heading', { name: 'Converter' });
  const offered = screen.getAllByRole('button', { name: /^The wires of/ });
  expect(offered.map((key) => key.textContent.trim())).toEqual([
    'The wires of Solenoid A',
    'The wires of Switch',
  ]);
});
