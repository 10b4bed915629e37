/** Reading a meter's display: what the screen does with what the core says of each frame. */
import { render, screen, waitFor } from '@testing-library/svelte';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { place, seenOf } from '../src/camera/meter';
import type { Answer } from '../src/camera/wasm';
import type { JobView } from '../src/door/types/JobView';
import type { LastChoices } from '../src/door/types/LastChoices';
import type { WantView } from '../src/door/types/WantView';
import JobScreen from '../src/screens/JobScreen.svelte';
import { swap } from '../src/state/route.svelte';
import { session } from '../src/state/session.svelte';
import { openDoor, type Door } from './support/door';
import { job, JOB, METER, solenoid, stage, start, step } from './support/sample';

/** The worker's place: the test says what the core saw. */
class Beside {
  static last: Beside | null = null;
  onmessage: ((event: { data: Answer | null }) => void) | null = null;
  onerror: (() => void) | null = null;
  asked = 0;
  ended = false;
  constructor() {
    Beside.last = this;
  }
  postMessage(): void {
    this.asked += 1;
  }
  terminate(): void {
    this.ended = true;
  }
}

const stands = { nothing: 0, waiting: 1, taken: 2, same: 3 };
function figures(stand: keyof typeof stands, text: string, { why = 0, stood = false } = {}) {
  const out = Array.from({ length: 21 }, () => 0);
  [out[0], out[1], out[2], out[3]] = [stands[stand], 0.5, why, text.length];
  [...text].forEach((letter, at) => (out[12 + at] = letter.codePointAt(0) ?? 0));
  out[20] = stood ? 1 : 0;
  return { figures: out, ms: 80 } satisfies Answer;
}
/** One frame, when the screen has asked for it. */
async function frame(answer: Answer | null): Promise<void> {
  await waitFor(() => expect(Beside.last?.onmessage).toBeTruthy());
  Beside.last?.onmessage?.({ data: answer });
}

const stopped = vi.fn();
let shown = 0;

beforeEach(() => {
  Beside.last = null;
  stopped.mockClear();
  vi.stubGlobal('Worker', Beside);
  const stream = { getTracks: () => [{ stop: stopped }], getVideoTracks: () => [] };
  const mediaDevices = { getUserMedia: vi.fn(() => Promise.resolve(stream)) };
  Object.defineProperty(navigator, 'mediaDevices', { value: mediaDevices, configurable: true });
  vi.spyOn(HTMLVideoElement.prototype, 'srcObject', 'set').mockImplementation(() => undefined);
  vi.spyOn(HTMLCanvasElement.prototype, 'toBlob').mockImplementation((done) =>
    done(new Blob(['frame'], { type: 'image/jpeg' })),
  );
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

function show(over: Partial<JobView> = {}): Door {
  const want = {
    kind: 'readings',
    quantity: 'resistance',
    optional: false,
    have: false,
    words: '',
    value: null,
    measures: null,
    offers: [],
  } as unknown as WantView;
  const id = `${JOB}-meter-${(shown += 1)}`;
  const view = job([stage(1, [step('a', [want])])], { id, components: [solenoid], ...over });
  session.start = start({ settings: { ...start().settings, meter: METER, quiet: true } });
  session.job = null;
  session.trouble = null;
  let written = 0;
  const door = openDoor({
    job: () => ({ reply: 'job', job: view }),
    start: () => ({ reply: 'start', start: session.start ?? start() }),
    read_numbers: ({ typed }) => ({ reply: 'numbers', numbers: typed.map(() => null) }),
    write_displayed: () => ({ reply: 'written', entry: `e${(written += 1)}`, job: view }),
  });
  swap(`/job/${id}`);
  render(JobScreen, { props: { id } });
  return door;
}

const press = async (name: string) => (await screen.findByRole('button', { name })).click();
const next = () => screen.getByTestId('next') as HTMLButtonElement;

async function opened(over: Partial<JobView> = {}): Promise<Door> {
  const door = show(over);
  // Past the leads, which are asked first.
  await waitFor(() => expect(next().textContent).toContain('leads not known'));
  next().click();
  await press('Read the meter');
  const video = await screen.findByLabelText('What the camera sees');
  video.dispatchEvent(new Event('playing'));
  return door;
}

test('a number that stands still is written by one press, with its unit and its photo', async () => {
  const door = await opened();
  await frame(figures('waiting', '12.4'));
  expect(next().disabled).toBe(true);
  await waitFor(() => expect(next().textContent).toContain('Which unit'));
  await press('kΩ');
  await frame(figures('waiting', '12.4'));
  await waitFor(() => expect(next().textContent).toContain('Hold the display'));
  await frame(figures('taken', '12.4', { stood: true }));
  await waitFor(() => expect(next().textContent).toContain('Write 12.4 kΩ'));
  expect((await screen.findByTestId('shown')).textContent).toContain('12.4 kΩ');
  expect(door.of('write_displayed')).toHaveLength(0);
  next().click();
  await waitFor(() => expect(door.of('write_displayed')).toHaveLength(1));
  expect(door.of('write_displayed')[0]).toMatchObject({
    step: 'a',
    photo: 'cd'.repeat(32),
    component: 'part',
    reading: { samples: ['12.4k', '12.4k', '12.4k'], meter: METER },
  });
  expect(door.of('write')).toHaveLength(0);
  // Written: the same number is not offered again.
  await frame(figures('same', '12.4', { stood: true }));
  await waitFor(() => expect(next().textContent).not.toContain('Write'));
});

test('a refused reading writes nothing, and its number stands to be written again', async () => {
  const door = await opened();
  const taken = door.answers.write_displayed;
  door.answers.write_displayed = () => {
    throw { kind: 'bad_input', what: 'No number.', do_next: 'Take it again.' };
  };
  await press('Ω');
  await frame(figures('taken', '12.4', { stood: true }));
  await waitFor(() => expect(next().textContent).toContain('Write 12.4 Ω'));
  next().click();
  await waitFor(() => expect(session.trouble?.problem.kind).toBe('bad_input'));
  expect(door.of('write')).toHaveLength(0);
  session.trouble = null;
  if (taken) door.answers.write_displayed = taken;
  await waitFor(() => expect(next().textContent).toContain('Write 12.4 Ω'));
  next().click();
  await waitFor(() => expect(door.of('write_displayed')).toHaveLength(2));
});

test('the unit of the shop’s last job stands chosen for like parts and that meter', async () => {
  const unit = { quantity: 'resistance', kind: solenoid.kind, meter: METER.name, symbol: 'kΩ' };
  const last = { source: '', amps_by: null, read_in: [unit] } as LastChoices;
  await opened({ last });
  await frame(figures('taken', '12.4', { stood: true }));
  await waitFor(() => expect(next().textContent).toContain('Write 12.4 kΩ'));
  await press('Ω');
  await waitFor(() => expect(next().textContent).toContain('Write 12.4 Ω'));
});

test('a unit of another meter is not taken over', async () => {
  const unit = { quantity: 'resistance', kind: solenoid.kind, meter: 'another', symbol: 'kΩ' };
  await opened({ last: { source: '', amps_by: null, read_in: [unit] } as LastChoices });
  await frame(figures('taken', '12.4', { stood: true }));
  await waitFor(() => expect(next().textContent).toContain('Which unit'));
});

test('a number that changes is no longer offered, and over range has no unit', async () => {
  await opened();
  await press('Ω');
  await frame(figures('taken', '12.4', { stood: true }));
  await waitFor(() => expect(next().textContent).toContain('Write 12.4 Ω'));
  // Looked away: it stands.
  await frame(figures('nothing', '', { why: 1, stood: true }));
  expect(next().textContent).toContain('Write 12.4 Ω');
  await frame(figures('waiting', '12.5'));
  await waitFor(() => expect(next().disabled).toBe(true));
  await frame(figures('taken', 'OL', { stood: true }));
  await waitFor(() => expect(next().textContent).toContain('Write OL'));
});

test('why nothing is read is told', async () => {
  await opened();
  const hint = await screen.findByTestId('meter-hint');
  for (const [why, words] of [
    [1, 'No display'],
    [2, 'whole display'],
    [3, 'nearer'],
    [4, 'glare'],
    [5, 'no number'],
  ] as const) {
    await frame(figures('nothing', '', { why }));
    await waitFor(() => expect(hint.textContent).toContain(words));
  }
});

test('without a camera, and without WebAssembly, the number is typed', async () => {
  const refused = () => Promise.reject(new Error('no'));
  const value = { getUserMedia: vi.fn(refused) };
  Object.defineProperty(navigator, 'mediaDevices', { value, configurable: true });
  show();
  await waitFor(() => expect(next().textContent).toContain('leads not known'));
  next().click();
  await press('Read the meter');
  await screen.findByText(/camera can’t be opened/);
  await press('Number keys');
  await screen.findByRole('group', { name: 'Number keys' });
});

test('without WebAssembly that is said, and the camera is let go', async () => {
  await opened();
  await frame(null);
  await screen.findByText(/can’t read the display/);
  expect(stopped).toHaveBeenCalled();
  await press('Number keys');
  await screen.findByRole('group', { name: 'Number keys' });
});

test('the camera is let go with the keys, and one frame is read at a time', async () => {
  await opened();
  await frame(figures('nothing', '', { why: 1 }));
  const worker = Beside.last;
  await press('Number keys');
  expect(stopped).toHaveBeenCalled();
  expect(worker?.ended).toBe(true);
});

test('what is read is the middle of the picture, twice as wide as high', () => {
  expect(place(640, 480)).toEqual([0, 80, 640, 320]);
  expect(place(720, 1280)).toEqual([0, 460, 720, 360]);
  expect(place(1000, 100)).toEqual([400, 0, 200, 100]);
  const seen = seenOf(figures('taken', '-12.4', { stood: true }), { width: 640, height: 320 });
  expect(seen).toMatchObject({ stand: 'taken', text: '-12.4', why: '', stood: true });
  expect(seen.corners).toHaveLength(4);
  expect(seenOf(figures('nothing', '', { why: 3 }), { width: 640, height: 320 }).corners).toEqual(
    [],
  );
});
