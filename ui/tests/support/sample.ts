/** Typed sample replies for tests; the app itself never sees them. */
import type { ComponentView } from '../../src/door/types/ComponentView';
import type { JobView } from '../../src/door/types/JobView';
import type { ParticleView } from '../../src/door/types/ParticleView';
import type { PhotoCensusView } from '../../src/door/types/PhotoCensusView';
import type { StageView } from '../../src/door/types/StageView';
import type { StartView } from '../../src/door/types/StartView';
import type { StepView } from '../../src/door/types/StepView';
import type { Units } from '../../src/door/types/Units';
import type { WantView } from '../../src/door/types/WantView';

export const METER = { name: 'ordinary', percent: 1, counts: 3 };

export const JOB = '0190a000-0000-7000-8000-000000000001';

const metric: Units = {
  distance: 'kilometre',
  temperature: 'celsius',
  torque: 'newton_metre',
  volume: 'litre',
  length: 'millimetre',
};

export function start(over: Partial<StartView> = {}): StartView {
  return {
    settings: {
      technician: 'A. Sample',
      shop: 'Sample Gearboxes',
      address: '1 Sample Lane',
      telephone: '000 000',
      hand: 'right',
      paper: 'bay',
      glove: false,
      quiet: false,
      meter: null,
      tools: { meters: {}, wrench: { serial: '', calibrated: null }, card: null },
      guard: null,
      market: null,
      calibrated: false,
      units: metric,
      language: 'en',
    },
    first_run: false,
    is_hub: false,
    job: null,
    place: '',
    jobs: 0,
    demo: false,
    meters: [METER],
    units: [
      { quantity: 'volume', unit: 'litre', symbol: 'l', scale: 1, offset: 0 },
      { quantity: 'temperature', unit: 'celsius', symbol: '°C', scale: 1, offset: 0 },
      { quantity: 'temperature', unit: 'fahrenheit', symbol: '°F', scale: 5 / 9, offset: -160 / 9 },
    ],
    unit_sets: [
      { regions: [], units: metric },
      { regions: ['GB'], units: { ...metric, distance: 'mile' } },
    ],
    storage_warning: null,
    ...over,
  };
}

export function step(id: string, wants: WantView[] = [], over: Partial<StepView> = {}): StepView {
  return {
    id,
    title: `Step ${id}`,
    text: '',
    why: '',
    caution: null,
    drawing: id,
    standing: 'in_hand',
    skip_reason: null,
    wants,
    in_the_way: [],
    lines: [],
    ...over,
  };
}

export function stage(number: number, steps: StepView[], over: Partial<StageView> = {}): StageView {
  return {
    id: `stage-${number}`,
    number,
    title: `Stage ${number}`,
    caution: null,
    drawing: `stage-${number}`,
    standing: number === 1 ? 'in_hand' : 'later',
    steps,
    ...over,
  };
}

export function job(stages: StageView[], over: Partial<JobView> = {}): JobView {
  return {
    id: JOB,
    title: 'TEST 1',
    subtitle: 'a sample',
    demo: false,
    opened: '2026-05-01T08:00:00+02:00',
    procedure: 'Sample procedure',
    car: null,
    car_words: [],
    customer: null,
    complaint: null,
    codes_before: null,
    codes_after: null,
    codes_changed: [],
    go_ahead: null,
    stages,
    step_in_hand: stages[0]?.steps[0]?.id ?? '',
    finished: false,
    photos: [],
    parts: [],
    still_off: 0,
    components: [],
    explains: [],
    wear: null,
    wear_problem: null,
    decision: null,
    fluid_words: [],
    lines: 0,
    recent: [],
    undo_words: null,
    drafts: {},
    answers: [],
    links: [],
    reports: [],
    ...over,
  };
}

/** A square piece of `side` pixels around a point. */
export function piece(index: number, x: number, y: number, side = 10): ParticleView {
  const h = side / 2;
  return {
    index,
    at_px: [x, y],
    outline_px: [
      [x - h, y - h],
      [x + h, y - h],
      [x + h, y + h],
      [x - h, y + h],
    ],
    class: 'steel_flake',
    machine_class: null,
    not_debris: false,
    p: 0.9,
    iso16232: 'J',
    words: `steel flake number ${index}`,
    feret_max_mm: 0.7,
    feret_min_mm: 0.5,
    area_mm2: 0.3,
    waist_px: null,
    redrawn: false,
    figures: '0.70 × 0.50 mm, 0.30 mm², length class J',
    rank: index,
    place: 'sure',
    confirmed: false,
    sure: 0.9,
    likely: [],
  };
}

export function census(particles: ParticleView[]): PhotoCensusView {
  return {
    photo: {
      entry: 'photo-entry',
      photo: 'ab'.repeat(32),
      step: 'a',
      subject: 'patch',
      words: 'the patch',
      at: '2026-05-01T08:10:00+02:00',
      countable: true,
      census: {
        words: `about ${particles.length} pieces`,
        n: particles.length,
        problem: null,
        limits: ['Glare in a corner.'],
        confirmed: false,
      },
    },
    size_px: [1000, 800],
    particles,
    counts: [{ class: 'steel_flake', label: 'steel flake', n: particles.length, lo: 1, hi: 9 }],
    histogram: [
      { size: 'J', label: '0.6 to 1 mm', by_class: [], n: particles.length, below_seen: false },
    ],
    scale_words: '20 px/mm from the gauge card',
    unseen_words: 'Nothing under 0.3 mm can be seen.',
    magnet_words: null,
    fluid_words: null,
    wants_taps: false,
    hints: {
      as: null,
      fluid_at: null,
      subject_at: null,
      subject_height_mm: null,
      taps: null,
      tap_mm: null,
      taps_height_mm: null,
      taps_on: null,
    },
    patch_words: [],
    links: [],
    repeat_offer: null,
  };
}

/** An electrical part of which nothing was read. */
export const solenoid: ComponentView = {
  entry: 'part',
  name: 'Solenoid A',
  kind: 'on_off_solenoid',
  kind_words: 'on/off solenoid',
  connector: '',
  part_number: '',
  codes: [],
  specs: [],
  spec_words: '',
  readings: [],
  sibling_words: null,
  replaced: false,
  standing: null,
  as_found: null,
  grounded_by_case: false,
  unread: [],
};
