/**
 * Every text of the screens, in English. Short and plain: what is so, and what
 * to do. What the core says (verdicts, problems, steps) comes through the door.
 */
import { rowIn } from '../door/tables';
import type { ComponentKind } from '../door/types/ComponentKind';
import type { PhotoSubject } from '../door/types/PhotoSubject';
import { readingTable } from '../door/types/readingTable';
import type { WantView } from '../door/types/WantView';

/** "1 photo", "3 photos" */
const many = (n: number, one: string, more: string): string => `${n} ${n === 1 ? one : more}`;
const keys = <T extends string>(pairs: Record<T, string>) =>
  (Object.entries(pairs) as [T, string][]).map(([id, label]) => ({ id, label }));

const subjects: Record<PhotoSubject, string> = {
  patch: 'The patch',
  patch_after_magnet: 'The patch after the magnet',
  pan: 'The pan',
  magnet: 'The magnet',
  place: 'Where it goes',
  filter: 'The filter',
  part: 'The part',
  leak: 'The place looked at',
  other: 'A photo',
};

export const en = {
  app: 'Swarfbook',
  subjects,

  door: {
    unreachable: 'The store does not answer.',
    unreachableDo: 'See that the hub is running and in reach, then try again.',
    /** Said only where this browser does keep it. */
    typedKept: 'Nothing typed is lost.',
    typedHere:
      'Keep this page open: this browser keeps nothing, so what is typed stands here only.',
    stranger: 'This browser is not known here.',
    strangerDo: 'Open the address that the hub printed.',
    strange: (status: number) => `The answer can't be read (${status}).`,
    strangeDo: 'Try again.',
    broke: (said: string) => `That did not work: ${said}`,
    brokeDo: 'Try again.',
  },

  busy: {
    file: 'Making the file…',
    opening: 'Opening…',
    writing: 'Writing it down…',
    undoing: 'Undoing…',
    photo: 'Keeping the photo…',
    reading: 'Reading the photo…',
    report: 'Writing the report…',
    syncing: 'Asking the hub…',
  },

  thumb: {
    undo: 'Undo',
    /** On its small key: may hold a place at which to break the word. */
    undoKey: 'Undo',
    undoWhat: (what: string) => `Undo: ${what}`,
    takenBack: (what: string) => `Undone: ${what}`,
    camera: 'Camera',
    back: 'Back',
    toJob: 'Back to the step',
    tryAgain: 'Try again',
    writeAnyway: 'Write it anyway',
    changeIt: 'Change it',
    understood: 'Understood',
    nothingNext: 'Nothing to press next',
  },

  standing: {
    later: 'later',
    in_hand: 'in hand',
    done: 'done',
    skipped: 'skipped',
    passed: 'not after “open up”',
  },

  spine: {
    label: 'Stages',
    knot: (number: number | string, title: string, standing: string) =>
      `${number} ${title}, ${standing}`,
    step: (title: string, standing: string) => `${title}, ${standing}`,
    more: 'More',
    far: (done: number, all: number) => `${done} of ${all} stages`,
  },

  keypad: {
    label: 'Number keys',
    point: 'point',
    mark: '.',
    erase: 'erase',
    thousand: 'three noughts',
    letters: 'Letter keys',
    dash: 'dash',
    space: 'space',
    names: {
      '-': 'plus or minus',
      '>': 'more than',
      k: 'kilo',
      M: 'mega',
      OL: 'OL',
    } as Record<string, string>,
    keyboard: 'The phone’s own keyboard',
    less: (what: string) => `less: ${what}`,
    more: (what: string) => `more: ${what}`,
  },

  firstRun: {
    hello: 'A notebook for gearbox work. Six things, then you can start.',
    card: 'The gauge card',
    cardWhy: 'It lies in every photo and tells its scale. Print it once, at 100 %.',
    begin: 'Begin',
    nameFirst: 'Your name first',
  },

  tour: {
    title: 'A look around',
    at: (at: number, all: number) => `${at} of ${all}`,
    next: 'Next',
    end: 'To the jobs',
    leave: 'Leave',
    pages: [
      {
        drawing: 'secured',
        title: 'One step, one press',
        text: 'Each step shows what to do and what to beware of. The orange key at the bottom is what comes next. The drawings down the side are the stages: a press goes there, in any order.',
      },
      {
        drawing: 'patch',
        title: 'The card lies in every photo',
        text: 'Print the gauge card at 100 %. Beside the debris it gives the photo its scale. The app counts the pieces; you correct and confirm the count.',
      },
      {
        drawing: 'resistance',
        title: 'Readings on one sheet',
        text: 'Name the parts and the maker’s limits once. Each reading says in one large word what it comes to, with a sound and in the hand, and the next part stands ready.',
      },
      {
        drawing: 'report',
        title: 'Written at once, always to be undone',
        text: 'Every press is in the log before the screen says so, with or without a signal. Undo takes back the last one. At the end the log is the signed report for the customer.',
      },
    ],
  },

  settings: {
    language: 'Language',
    technician: 'Your name, as the report gives it',
    shop: "The shop's name",
    address: 'Address',
    telephone: 'Telephone',
    hand: 'Which thumb works?',
    hands: keys({ left: 'Left', right: 'Right' }),
    paper: 'Screen',
    papers: keys({ bay: 'dark', desk: 'light' }),
    glove: 'Gloves',
    gloves: keys({ off: 'Bare hands', on: 'Gloves: bigger' }),
    meter: 'Your meter',
    sound: 'After a reading',
    sounds: keys({ on: 'Sound and vibration', off: 'Silent' }),
    guard: 'How sure before in or out of spec is said?',
    guardExplain:
      'A reading near a limit that is less sure than this is “too close to call”. 95 % is usual.',
    guards: [
      { id: '0.5', label: '50 %: no margin' },
      { id: '0.8', label: '80 %' },
      { id: '0.95', label: '95 %' },
      { id: '0.99', label: '99 %' },
    ],
    market: 'Where were the cars sold?',
    markets: keys({
      north_america: 'US or Canada',
      elsewhere: 'elsewhere',
      unknown: 'both, or not known',
    }),
    keep: 'Save',
  },

  files: {
    title: 'An export',
    explain:
      'Everything in it that this device lacks is imported: jobs, photos, customers. What is here already stays as it is.',
    none: 'Nothing waits to be imported.',
    takeIn: 'Import it',
    cameIn: (lines: number, photos: number) =>
      `${many(lines, 'line', 'lines')} and ${many(photos, 'photo', 'photos')} imported.`,
    lies: (place: string) => `The file is kept: ${place}`,
    card: 'gauge-card.pdf',
    checker: 'check-a-report.html',
    noChecker: 'The page that checks a report is not built into this app.',
    askHub: 'The shop’s hub shows it at /verify.',
  },

  units: {
    label: 'Which units?',
    of: {
      distance: 'Distance driven',
      temperature: 'Temperature',
      torque: 'Torque',
      volume: 'Fluid',
      length: 'Length of bolts',
    },
  },

  jobs: {
    label: 'Jobs',
    count: (n: number) => many(n, 'job', 'jobs'),
    newJob: 'New job',
    more: 'More',
    find: 'Find',
    search: 'Find a job',
    searchHint: 'plate, car, customer',
    untitled: 'No plate yet',
    emptyTitle: 'The book is empty.',
    emptyText:
      'A job begins with the car on your lift: plate, complaint, codes. Then the book leads through the pan, the tests and the report, one thing at a time.',
    emptyNext: 'Nothing needs a signal. Every press is written at once, and undo is always there.',
    noneFound: (search: string) => `No job fits “${search}”.`,
  },

  job: {
    one: 'Job',
    demo: 'invented demo',
    notebook: 'Notebook',
    steps: (stage: string) => `Steps of ${stage}`,
    stepOf: (at: number, all: number) => `step ${at} of ${all}`,
    finished: 'Everything is done or skipped. The report is under More.',
  },

  step: {
    caution: 'Caution',
    tick: (title: string) => `Tick: ${title}`,
    toHand: (title: string) => `To the step in hand: ${title}`,
    isDone: 'Done.',
    notYet: 'Not yet: see above',
    isSkipped: (reason: string) => `Skipped: ${reason}`,
    isPassed:
      'It was decided to open the unit up, so this step is not led through. It can be done all the same.',
    why: 'Why?',
    note: 'Note',
    leaveOut: 'Skip, with a reason',
    leaveOutTitle: (title: string) => `Skip: ${title}`,
    leaveOutWith: (reason: string) => `Skip it: ${reason}`,
    reason: 'Why it is skipped',
    reasonFirst: 'The reason first',
    reasons: [
      'this car has none',
      'the customer does not want it',
      "the maker's data say otherwise",
      'done before',
      'can’t be reached',
      'at the next visit',
    ],
    notNow: 'Back to the step',
  },

  note: {
    title: (step: string) => `A note at: ${step}`,
    text: 'In your words',
    who: 'Who reads it?',
    whos: keys({ report: 'In the report', private: 'Only the shop' }),
    keep: 'Write the note',
    first: 'The words first',
  },

  more: {
    title: 'More',
    jobs: 'All jobs',
    hand: 'Back to the step',
    pan: 'The pan and the score',
    parts: 'Parts off',
    bench: 'Electrical parts',
    photos: 'Photos',
    log: 'The whole log',
    report: 'The report',
    customer: 'The customer’s answer',
    reports: (n: number) => (n === 0 ? 'not made yet' : many(n, 'made', 'made')),
    card: 'The gauge card, to print',
    checker: 'The page that checks a report',
    everything: 'Everything here in one file',
    settings: 'Name, language, hand, screen',
    procedures: 'Procedures',
    record: 'How often the machine was right',
    sync: "The shop's hub",
  },

  log: {
    machine: 'The machine: ',
    takenBack: 'undone',
    unsigned: 'not signed',
    takeBack: 'Undo this line',
    takeBackShort: 'Undo',
    redo: 'Redo this line',
    redoShort: 'Redo',
    keepIt: 'Cancel',
    choose: (what: string) => `Undo: ${what}`,
    chooseRedo: (what: string) => `Redo: ${what}`,
    short: (lines: number, last: string, at: string) =>
      `${many(lines, 'line', 'lines')}, last: ${last}, ${at}`,
    by: (name: string) => `by ${name}`,
    reason: 'Why (may be empty)',
  },

  want: {
    several: 'Several may hold: press each, then write.',
    whatItIs: 'What it is',
    sayWhat: 'Say what it is',
    label: (want: WantView): string => {
      switch (want.kind) {
        case 'car':
          return 'The car';
        case 'complaint':
          return 'The complaint';
        case 'codes':
          return want.moment === 'before' ? 'Codes on arrival' : 'Codes after the work';
        case 'go_ahead':
          return 'Go-ahead';
        case 'parts_off':
          return 'Parts off';
        case 'parts_back':
          return 'Parts back';
        case 'census':
          return 'The counts';
        case 'components':
          return 'Electrical parts';
        case 'readings':
          return rowIn(readingTable.en, want.quantity).label;
        case 'explains':
          return 'What it explains';
        case 'decision':
          return 'Decision';
        case 'replace':
          return `Replaced: ${want.what}`;
        case 'tighten':
          return `Tightened: ${want.what}`;
        case 'report':
          return 'The report';
        case 'answer':
          return 'The customer’s answer';
        default:
          return want.label;
      }
    },
    row: (label: string, state: string) => `${label}: ${state}`,
    have: 'written',
    missing: 'to do',
    optional: 'optional',
    choose: 'Press one of the keys',
    enter: (label: string) => `${label}: enter it`,
    write: (what: string) => `Write: ${what}`,
    offers: (label: string) => `${label}: keys`,
    enough: "That's all of these",
  },

  photo: {
    take: (label: string) => `Photo: ${label}`,
    another: (label: string) => `Another photo: ${label}`,
    open: (what: string) => `Open photo: ${what}`,
    again: 'Take it again',
    againShort: 'Again',
    takenAgain: 'taken again',
    none: 'No photo yet.',
  },

  camera: {
    title: (subject: string) => `Camera: ${subject}`,
    live: 'What the camera sees',
    still: 'The photo as taken',
    held: 'This photo is on this page alone until it is kept: a reload or closing the page loses it.',
    shoot: 'Take the photo',
    opening: 'Opening the camera…',
    keep: 'Keep this photo',
    tryAgain: 'Try the camera again',
    refused:
      'The camera in the app can’t be opened. Allow it in the settings of the phone or the browser, or use one of the two keys below.',
    file: 'Photo file',
    system: 'Phone’s camera',
    torch: 'Light',
    itself: 'Automatic',
    told: 'On a press',
    advice: {
      good: 'Good: hold still',
      dark: 'Too dark: bring a light',
      glare: 'Glare: turn the light aside',
      no_card: 'Show the whole gauge card',
      tilted: 'Hold it straight above',
      far: 'Go nearer',
      blurred: 'Not sharp: hold still',
    } as Record<string, string>,
    lift: {
      top: 'Lift the top edge',
      right: 'Lift the right edge',
      bottom: 'Lift the bottom edge',
      left: 'Lift the left edge',
    },
    loud: 'Sound on',
    silent: 'Sound off',
    doing: ['Keep the photo', 'Find the card, the pieces and what they are'],
    figures: (tilt: number, pxPerMm: number) =>
      `${Math.round(tilt)}° tilt, ${Math.round(pxPerMm)} px/mm`,
    hold: 'From the side: the phone level above it, the gauge card at its height.',
    how: {
      patch: 'Straight from above, the gauge card beside it, no glare.',
      patch_after_magnet: 'The same place, after the magnet; the gauge card beside it.',
      pan: 'Straight from above, nothing wiped, the gauge card in it.',
      magnet: 'As it sits, before wiping; the gauge card at its height if there is room.',
      place: 'So that somebody else could put it back.',
    } as Partial<Record<PhotoSubject, string>>,
  },

  stray: {
    title: 'From the phone’s camera',
    waits: (n: number) =>
      `${many(n, 'photo', 'photos')} of the phone’s camera came into no job, since the app was closed meanwhile. Open the job, then More.`,
    explain: (when: string) =>
      `The phone’s camera took it (${when}), and the app was closed meanwhile. Is it for this step?`,
    torn: (when: string) =>
      `The phone’s camera left a file (${when}) that is no whole photo. Take it again.`,
    picture: (when: string) => `The photo of ${when}`,
    subject: 'What it shows',
    leave: 'Leave this photo out',
    leaveShort: 'Leave it',
    leaving: 'It comes into no job then, and is not asked about again.',
    reallyLeave: 'Leave it out for good',
    keepAfterAll: 'Do not leave it out',
    keepShort: 'Cancel',
    later: 'Later',
    none: 'No photo waits here.',
  },

  car: {
    plate: 'Plate',
    description: 'The car',
    descriptionHint: 'colour, body, gearbox',
    vin: 'VIN',
    odometer: 'Odometer',
    changed: 'Fluid last changed at (empty: nobody knows)',
    owner: 'Owner',
    contact: 'Telephone or mail',
    plateFirst: 'Plate or VIN first',
    odometerNext: 'Now the odometer',
  },

  gearbox: {
    unit: 'The gearbox in it',
    units: {
      original: 'original',
      rebuilt: 'rebuilt',
      new: 'another, new',
      used: 'another, used',
      unknown: 'not known',
    },
    unitAt: 'It went in at (odometer)',
    first: 'Its first service?',
    firsts: { yes: 'yes', no: 'no', unknown: 'not known' },
    wiped: 'Pan off and magnets wiped at the last service?',
    wipeds: { yes: 'yes', no: 'no', never: 'never off', unknown: 'not known' },
  },

  meter: {
    own: 'own meter',
    byLeaflet: 'Enter its accuracy',
    explain: 'From its manual: ± (percent of reading + counts of the last digit).',
    percent: 'Percent of reading',
    counts: 'Counts',
    take: (percent: string, counts: string) =>
      `This meter: ±${percent || '…'} % + ${counts || '…'}`,
  },

  tools: {
    title: 'Numbers of your tools',
    explain:
      'An expert asks for these. Each is asked once and stands in the report’s annex; what is empty is “not stated” there.',
    wrench: 'torque wrench',
    serial: (name: string) => `Serial number: ${name}`,
    calibrated: (name: string) => `Calibrated on: ${name}`,
    cardLine: 'The line of 150 mm on the gauge card’s sheet, as you measure it',
    cardDay: 'Measured on',
  },

  trend: {
    plot: 'Pieces in 10,000 km at each visit, with 90 % intervals',
    axis: 'Pieces of wear in 10,000 km; filled: this visit.',
    now: 'now',
    visits: 'Visits, oldest first',
  },

  vin: {
    scan: 'VIN: scan its bar code',
    file: 'VIN: from a photo file',
    fromPhoto: 'VIN from the photo taken here',
    read: (vin: string, format: string) =>
      `Read from the ${format}: ${vin}. Compare it with the car.`,
  },

  complaint: {
    words: "In the customer's words",
    what: 'What does it do?',
    when: 'When does it show?',
    keep: 'Write the complaint',
    first: 'The words first',
  },

  codes: {
    label: 'Codes read',
    state: 'Stored or pending',
    states: { stored: 'stored', pending: 'pending' },
    stateKeys: keys({ pending: 'Pending', stored: 'Stored' }),
    typing: 'The code being typed',
    pad: 'Code keys',
    remove: (code: string) => `Remove ${code}`,
    takeOut: 'remove',
    status: 'change',
    statusOf: (code: string) => `Status byte of ${code}`,
    bitsOf: (code: string) => `Status bits of ${code}`,
    noStatus: 'No status',
    orTap: 'or tap the bits that are set:',
    bits: [
      'fails now',
      'failed this cycle',
      'pending',
      'confirmed',
      'not tested since clearing',
      'failed since clearing',
      'not tested this cycle',
      'warning light',
    ],
    inBytes: 'Code as hex',
    inLetters: 'Code as letter and digits',
    takeBytes: (bytes: string) => `Take ${bytes}`,
    failureType: (code: string) => `Failure type of ${code}`,
    finish: (typing: string) => `Finish ${typing}…`,
    noneKey: 'No codes set',
    none: 'Write: no codes set',
    first: 'A code, or “No codes set”',
    stateFirst: 'Stored or pending?',
    write: (n: number) => `Write: ${many(n, 'code', 'codes')}`,
  },

  goAhead: {
    /** Who and how in one key. */
    ways: (who: string) =>
      keys({
        in_person: `${who}, face to face`,
        phone: `${who}, by telephone`,
        message: `${who}, in writing`,
      }),
    other: 'Who agreed, if somebody else',
    amount: 'Another amount',
    by: 'Who agreed',
    customer: 'the customer',
    amounts: 'Round sums',
    how: 'How',
    hows: keys({ in_person: 'Face to face', phone: 'By telephone', message: 'In writing' }),
    limit: 'The most it may cost before you ask again',
    currency: 'Currency',
    currencies: (now: string) =>
      [...new Set([now, 'EUR', 'GBP', 'USD'])].slice(0, 4).map((id) => ({ id, label: id })),
    whos: 'Who agreed, to choose',
    whoFirst: 'Who agreed?',
    howFirst: 'How did they agree?',
    limitFirst: 'Up to how much, or no limit?',
    limits: 'Limit',
    noLimitKey: 'No limit agreed',
    upTo: (who: string, amount: string) => `Write: ${who}, up to ${amount}`,
    noLimit: (who: string) => `Write: ${who}, no limit`,
  },

  parts: {
    label: 'Parts off',
    item: 'What came off',
    ownItem: 'What came off, in words',
    items: [
      'bolts M6',
      'bolts M8',
      'bolts',
      'nuts',
      'screws',
      'brace',
      'tray',
      'bracket',
      'heat shield',
      'clip',
      'plug',
    ],
    /** Those that have a size and a length. */
    fasteners: ['bolts', 'nuts', 'screws'],
    count: 'How many',
    countKeys: 'So many',
    size: 'Size',
    sizes: ['M5', 'M6', 'M8', 'M10'],
    length: 'Length',
    place: 'Where it goes back',
    places: ['pan', 'front', 'rear', 'left', 'right', 'middle'],
    photo: 'Photo of the place',
    photoOf: (what: string, n: number) => `${what}, ${n}`,
    tapPlaces: (n: number) =>
      n === 0 ? 'Tap each place in the photo.' : `${many(n, 'place', 'places')} tapped.`,
    lastPlace: 'Take the last place away',
    say: (count: string, item: string, size: string, length: string) =>
      [count, item, size, length && `× ${length}`].filter(Boolean).join(' '),
    off: (what: string) => `Off: ${what}`,
    change: (what: string) => `${what}: change`,
    itemFirst: 'What came off?',
    countFirst: 'How many?',
    placeFirst: 'Where does it go?',
    enoughOff: 'Nothing more came off',
    stillOff: (n: number) => (n === 0 ? 'nothing is off' : `${n} still off`),
    nothing: 'Nothing was taken off.',
    standing: (off: number, count: number) =>
      off === 0 ? 'all back' : off === count ? 'off' : `${off} of ${count} off`,
    back: (n: number) => (n === 1 ? 'One back' : `All ${n} back`),
    backName: (n: number, what: string) => `${n === 1 ? 'One back' : `All ${n} back`}: ${what}`,
    lost: 'Lost or spoilt',
    lostHow: 'What happened to it',
    writeLost: 'Write: one lost',
    laterBack: (n: number) => `Go on, ${n} still off`,
    putBack: (n: number) => `${n} still off`,
    allBack: 'All is back',
  },

  bench: {
    label: 'Electrical parts',
    kind: 'What is it?',
    kindFirst: 'What is it?',
    poles: 'Its other pole',
    byCase: keys({ case: 'Grounded by its case (one wire)' }),
    name: 'Name in the maker’s diagram',
    names: 'Names to choose',
    nameFirst: 'Which one is it?',
    named: (name: string) => `Its name: ${name}`,
    change: (what: string) => `${what}: change`,
    suggest: (kind: ComponentKind): string[] =>
      kind === 'temperature_sensor'
        ? ['Fluid temperature']
        : kind === 'speed_sensor'
          ? ['Input speed', 'Output speed']
          : kind === 'other'
            ? []
            : [...'ABCDEFGH'].map((letter) => `Solenoid ${letter}`),
    connector: 'Connector: colour or mark',
    number: 'Part number',
    codes: 'Codes that name it',
    low: 'Limit from',
    high: 'Limit to',
    at: 'at',
    source: 'Where the limits stand',
    sourceHint: 'maker’s manual, page…',
    sources: 'Whose data',
    sourceKeys: ['maker’s manual', 'maker’s data system', 'part’s data sheet'],
    sets: 'The parts of a gearbox that was here before',
    partsOf: (name: string, n: number) => `${name}: ${many(n, 'part', 'parts')}`,
    keepSet: 'Keep these parts for the next one like it',
    setName: 'What is this gearbox called?',
    keepSetAs: (name: string) => `Keep as: ${name}`,
    forgetSet: (name: string) => `Forget the parts of ${name}`,
    moreLike: (name: string) => `More like ${name}`,
    codeNames: (code: string) => `${code} names (maker’s data)`,
    oneMore: (name: string, like: string) => `${name}, like ${like}`,
    sourceFirst: 'Where do the limits stand?',
    sameLimits: (name: string, spec: string) => `Same limits as ${name}: ${spec}`,
    write: (name: string) => `Write: ${name} and its limits`,
    writeBare: (name: string) => `Write: ${name}, no limits`,
    enough: (n: number) => `That's all: ${many(n, 'part', 'parts')}`,
    replaced: 'replaced',
    noSpec: 'no limits entered',
    how: 'How it was worked out',
    nothing: 'No electrical part is named yet.',
    toReadings: 'To the readings',
  },

  limits: {
    of: 'Limits of',
    ofWhat: (what: string) => `Limits of: ${what}`,
    atKeys: 'Temperature that the limits hold at',
    atUnsaid: 'None is given',
    atAssumed: (at: string) => `About ${at} is then assumed, and the verdict is less certain.`,
    atFirst: 'At which temperature do they hold?',
    form: 'How the maker gives them',
    forms: keys({ range: 'At one temperature', table: 'A table', b_value: 'A B value' }),
    row: (n: number) => `Row ${n} of the table`,
    celsius: 'At',
    moreRows: 'One more row (cold to hot)',
    tolerance: 'Tolerance',
    b: 'B value',
    ohms: 'Resistance',
    least: 'At least',
    more: 'more limits',
    moreOf: (name: string) => `More limits: ${name}`,
    no: 'No more limits',
  },

  readings: {
    samples: 'Samples',
    typed: 'What the meter shows',
    part: 'The part’s temperature',
    field: (
      field: 'sample' | 'leads' | 'part' | 'top' | 'volts' | 'applied',
      value: string,
      degrees: string,
    ): string =>
      ({
        sample: value,
        leads: value ? `leads ${value} Ω` : 'leads: not known',
        part: value ? `part ${value} ${degrees}` : `part: ${degrees} not known`,
        top: value ? `meter ends at ${value} Ω` : 'meter ends at: not known',
        volts: value ? `tester at ${value} V` : 'no insulation tester',
        applied: value ? `${value} V at the part` : 'volts at the part: not read',
      })[field],
    from: 'Where was that temperature read?',
    froms: keys({
      probe_at_part: 'Probe at the part (± 1 K)',
      infrared: 'Infrared (± 3 K)',
      scan_data: 'Scan data (± 3 K)',
      surroundings: 'Air around it (± 3 K)',
    }),
    fromFirst: 'Where was it read?',
    testerCaution:
      'Unplug the control unit and every sensor before an insulation tester touches anything.',
    contact: 'Contact shown by',
    contactWhy:
      'A slipped probe is the commonest false open. Show that the leads carry current, then an open can be believed.',
    contactBy: {
      leads: '✓ contact: leads together',
      sibling: (name: string) => `✓ contact: ${name} read`,
      ticked: '✓ contact shown',
      not: 'contact: not shown',
    },
    contactKeys: {
      leads: 'Leads held together: enter what they read',
      sibling: (name: string) => `${name}, read with these leads`,
      ticked: 'Shown, no number',
      not: 'Not shown',
    },
    appliedFirst: (name: string) => `Volts at ${name}`,
    appliedCaution:
      'Through a fuse, the right way round, no longer than the maker allows. Nothing on electronics.',
    by: 'Amperes read by',
    byFirst: 'What are the amperes read by?',
    bys: keys({ meter: 'Meter in line', clamp: 'Clamp' }),
    click: 'Click',
    clicks: keys({ heard: 'Click heard', none: 'No click' }),
    leadsKeys: 'Leads held together, Ω',
    leadsUnknown: 'Go on, leads not known',
    meter: 'Meter',
    meterFirst: 'Which meter?',
    meterSays: (name: string, percent: number, counts: number) =>
      `${name} (±${percent} % + ${counts})`,
    take: (value: string) => `Take ${value}`,
    write: (samples: string) => `Write: ${samples}`,
    sameAgain: (value: string) => `${value} once more`,
    drop: (sample: string) => `Remove sample ${sample}`,
    toSamples: 'Now the reading',
    first: (name: string) => `Read ${name}`,
    next: (name: string) => `Next: ${name}`,
    enough: "That's all: readings",
    partsFirst: 'Name the parts first',
    noParts: 'No electrical part is named yet. That is the step before.',
    sheet: 'Parts and what they read',
    row: (name: string, says: string) => `${name}: ${says}`,
    steady: (value: string) => `${value}, three times alike`,
    jumps: (value: string) => `It moves: keep ${value} and look again`,
    near: 'Near what like parts read',
    asBefore: (value: string, name: string) => `${value} three times, as ${name}`,
    allOpen: (n: number) => `All ${n} show OL to ground`,
    plot: (value: string, verdict: string) => `${value}: ${verdict}`,
  },

  harness: {
    title: (part: string) => `Wires: ${part}`,
    drawing: 'From the control unit on the left to the part on the right, ground below.',
    how: 'From pin to pin and from each pin to ground, at both sides: it tells which stretch is open, shorted or has too much resistance.',
    caution:
      'Ignition off, control unit unplugged. Probe from the back of a plug or with the right pin: a wide probe spreads the contact.',
    control: 'At the control unit’s connector, the part plugged in',
    part: 'The part alone, unplugged',
    wires: 'Each wire from end to end, unplugged at both',
    looks: {
      c: (first: string, second: string) => `Pin ${first} to pin ${second}`,
      c1: (first: string) => `Pin ${first} to ground`,
      c2: (_: string, second: string) => `Pin ${second} to ground`,
      p: () => 'The part, pin to pin',
      p1: (first: string) => `The part, pin ${first} to ground`,
      p2: (_: string, second: string) => `The part, pin ${second} to ground`,
      w1: (first: string) => `Wire of pin ${first}`,
      w2: (_: string, second: string) => `Wire of pin ${second}`,
      leads: () => 'Leads held together',
    },
    blank: '– Ω',
    pin: (n: 1 | 2) => `Name of pin ${n} in the diagram`,
    next: (look: string) => `Next: ${look}`,
    first: (look: string) => `Read: ${look}`,
    write: (n: number) => `Write: ${many(n, 'number', 'numbers')}`,
    open: (part: string) => `The wires of ${part}`,
  },

  explains: {
    read: 'Seen',
    notYet: 'Nothing to weigh yet',
    nothing: 'No code and no reading to hold against the complaint yet.',
  },

  tighten: {
    torque: 'Torque by the maker’s data',
    torqueFirst: 'The torque, or to feel',
    how: 'How',
    hows: keys({
      feel: 'By hand, to feel',
      angle: 'Torque and angle',
      by_hand: 'All started by hand',
    }),
    angle: 'Then turned on by',
    angleFirst: 'The angle',
    byHandThen: (passes: number) => `All started by hand, then ${passes} passes`,
    byHandFirst: 'Press “All started by hand” when they are',
    passes: 'Passes',
    passesFirst: 'How many passes?',
    write: (what: string, torque: string) => `Write: ${what} ${torque || 'to feel'}`,
  },

  plan: {
    show: 'Order and passes',
    picture: (n: number) => `Cross order of ${n} bolts, numbered`,
    passes: 'Passes, ticked one after another',
    bolts: 'How many bolts',
    more: 'With it',
    mores: keys({ adapter: 'Adapter on the wrench', sealant: 'Sealant, no gasket' }),
    lever: 'Wrench: middle of the grip to the square',
    length: 'Adapter: square to the bolt',
    angle: 'How the adapter stands to the wrench',
    angles: keys({ '0': 'straight on', '45': '45°', '90': 'square' }),
    tool: 'How exact is the torque wrench?',
    tools: keys({ none: 'Not said', scale: 'By its scale', percent: 'By its certificate' }),
    most: 'Its scale ends at (ISO 6789)',
    percent: 'Its certificate says',
    isInstead: (torque: string) => `It is ${torque}`,
    isSure: (torque: string) => `It is ${torque}, as typed`,
    doubt: 'Which is it?',
  },

  replace: {
    component: 'Which part',
    what: 'What was replaced',
    number: 'New part’s number',
    batch: 'Batch or date code',
    old: 'The old one',
    olds: keys({ kept: 'Kept for the customer', not: 'Not kept' }),
    write: (what: string) => `Write: ${what} replaced`,
    first: 'What was replaced?',
    whats: 'Replaced',
    oldFirst: 'Where is the old one?',
    enough: 'Nothing more replaced',
  },

  census: {
    lookAt: (what: string) => `Look at: ${what}`,
    enough: 'All counts confirmed',
    photosFirst: 'Photos of pan, magnets and patch first',
    noPhotos: 'No photo of the pan, a magnet or a patch yet.',
    notRead: 'Not read yet.',
    confirmed: '✓ Confirmed.',
    notConfirmed: '○ Not yet confirmed.',
  },

  decision: {
    label: 'What is decided',
    choices: {
      carry_on: 'Finish the work',
      watch: 'Watch',
      test_first: 'Test first',
      open_up: 'Open up',
    },
    tests: 'Next:',
    advises: 'Advice:',
    soFar: 'As counted so far:',
    confirmFirst: (what: string) => `Confirm first: ${what}`,
    take: (choice: string) => `Decide: ${choice}`,
    overrule: (choice: string) => `Against the advice: ${choice}`,
    reason: 'Why you decide otherwise',
    reasonFirst: 'The reason first',
    reasons: [
      'the customer wants it so',
      'debris is from an earlier repair',
      'seen with my own eyes: sound',
      'more than the photo shows',
    ],
    choose: 'What do you decide?',
    notYet: 'There is nothing to weigh yet: confirm a count first.',
    was: (what: string) => `Decided: ${what}`,
  },

  pan: {
    table: (name: string) => `Weights: ${name}`,
    gauge: (numeral: number, band: string, score: number, lo: number, hi: number) =>
      `Band ${numeral}, ${band}. Wear score ${score}, between ${lo} and ${hi}.`,
    score: (score: number, lo: number, hi: number) => `score ${score} (${lo} to ${hi}) of 100`,
    reasons: 'Reasons, heaviest first',
    share: (share: number) => `${Math.round(share * 100)} %`,
    more: (n: number) => (n === 1 ? '1 more reason' : `${n} more reasons`),
    basis: 'What this rests on',
    photo: 'Photo',
    seePhoto: (reason: string) => `Photo behind: ${reason}`,
    missing: 'Not known yet:',
    nothing: 'Nothing was counted yet. The score comes from the photos of pan, magnets and patch.',
  },

  review: {
    all: 'All pieces',
    read: 'Read this photo',
    standBy: (n: number) => `Confirm ${many(n, 'piece', 'pieces')}`,
    piece: (number: number, of: number) => `Piece ${number} of ${of}`,
    previous: 'Previous piece',
    next: 'Next piece',
    close: 'Close the piece',
    whatIsIt: 'What is it?',
    notDebris: 'not debris',
    redrawn: 'Outline by the technician.',
    outline: 'Is it one piece?',
    two: 'Split',
    cut: 'Cut',
    join: 'Join',
    cutAsk: 'Tap on one side of the piece, then on the other side of it.',
    joinAsk: 'Tap the other piece.',
    leaveIt: 'Cancel',
    samePlace: 'Which photo it belongs to',
    samePlaceAsk: 'What two photos of one place show is counted once. What a magnet took is steel.',
    alone: 'There is no earlier photo that this one could belong to.',
    machineSaid: (what: string) => `The machine said ${what}.`,
    likely: (p: number) => `${Math.round(p * 100)} % sure`,
    pieces: 'Piece',
    tabs: 'About this photo',
    panels: [
      { id: 'class', label: 'Kinds' },
      { id: 'size', label: 'Sizes' },
      { id: 'limits', label: 'Limits' },
      { id: 'patch', label: 'Same place' },
      { id: 'help', label: 'Set the scale' },
    ],
    filterClass: 'Show only these kinds',
    filterSize: 'Show only these sizes',
    showAll: 'Show all again',
    count: (n: number, lo: number, hi: number) => `${n} (${Math.round(lo)} to ${Math.round(hi)})`,
    noSizes: 'No sizes without a scale.',
    belowSeen: '* Pieces so small can’t all be seen in this photo.',
    scale: 'Scale:',
    cannot: 'What this photo can’t show',
    zoom: 'Zoom in',
    out: 'Zoom out',
    gestures:
      'Two fingers zoom. One finger moves it when it is zoomed. Press and hold: no outlines.',
  },

  /** How to take a photo that can be read. */
  howTo: {
    title: 'How to photograph debris',
    steps: [
      {
        id: 'spread',
        title: 'Spread it thin',
        text: 'Pour or wipe the residue onto white, lint-free paper. No heaps: pieces that lie on one another are counted as one.',
      },
      {
        id: 'card',
        title: 'Lay the gauge card beside it',
        text: 'Flat, clean, at the same height, the whole card in the picture. It gives scale, level and white.',
      },
      {
        id: 'hold',
        title: 'Hold the phone level above',
        text: 'A hand’s length up, light from the side, no glare. The arrow says which edge to lift.',
      },
    ],
    legend: 'What the pieces are',
    meanings: 'Common practice, no published source. The maker’s procedure comes first.',
  },

  /** The pieces in their tray. */
  tray: {
    how: 'Tap: it is right. Hold: see it in the photo. %: how sure.',
    heaps: {
      grave: 'Heaviest in the score',
      doubtful: 'In doubt',
      sure: 'Sure',
      not_debris: 'Not debris',
    },
    confirmed: 'Confirmed',
    rest: (left: number, all: number) =>
      left === 0 ? `Confirm all ${all}` : `The rest is right: ${left}`,
    none: (n: number) => (n === 1 ? 'It is not debris' : `None of these ${n} is debris`),
    allKinds: 'All kinds',
    inPhoto: 'In the photo',
    toPhoto: 'The photo',
    toTray: 'The tray',
    legend: 'Legend',
    letters: 'Letters',
    moreKeys: 'More',
    lessKeys: 'Less',
    lost: 'The photo can’t be shown here; the figures stand.',
  },

  help: {
    label: 'What to tap',
    taps: 'Known length',
    magnet: 'The magnet',
    drop: 'Drop of fluid',
    ask: {
      taps: 'Tap the two ends of something whose length you know: a bolt head, a ruler.',
      subject: 'Tap the middle of the magnet’s face.',
      fluid: 'Tap the middle of the drop of fluid.',
    },
    known: 'Known lengths',
    lengths: keys({
      '8': '8 mm head',
      '10': '10 mm head',
      '13': '13 mm head',
      '50': '50 mm ruler',
    }),
    length: 'Length between the taps',
    where: 'The taps lie',
    wheres: keys({ ground: 'on the ground', subject: 'on the magnet' }),
    readAgain: 'Read it again with this',
    notYet: (mode: 'taps' | 'subject' | 'fluid', taps: number): string =>
      mode === 'subject'
        ? 'Tap the magnet'
        : mode === 'fluid'
          ? 'Tap the drop'
          : taps === 0
            ? 'Tap one end'
            : taps === 1
              ? 'Tap the other end'
              : 'How long is it?',
  },

  report: {
    look: 'Look at the report',
    explain: 'It is read through before it is made. What is made is signed and can’t change.',
    make: 'Make the report',
    again: 'Write it again',
    made: 'The report is made.',
    save: 'Save the file',
    savePdf: 'Save it as PDF, to print',
    share: 'Send the report',
    frame: 'The report',
    leaveOut: 'Leave out of this copy',
    leaveOuts: keys({ customer: 'Customer’s name', car: 'Plate and VIN' }),
    leaveOutNote: 'Photos stay as they are: look whether one shows a name or a plate.',
    namedTexts: 'These typed texts hold it. None is changed in part.',
    holdsName: (holds: string, goes: boolean) =>
      goes ? `Holds “${holds}”: left out whole.` : `Holds “${holds}”: stays as written.`,
    wordTexts: 'Texts that hold a word of the name only',
    wordTextChoices: keys({ leave: 'Leave out whole', keep: 'Keep: no name there' }),
    reads: 'The customer reads',
    fileName: (title: string, form: 'html' | 'pdf') =>
      `report-${title.trim().replace(/[^\p{L}\p{N}]+/gu, '-') || 'job'}.${form}`,
  },

  costs: {
    open: 'Enter prices (optional)',
    explain:
      'What you ask for each, in the letter and on the customer’s page. What stays empty says “not stated”.',
    added: (what: string) => `Added to the price of: ${what}`,
    addedHint: 'with tax, without parts',
    keep: 'Save the prices',
  },

  reports: {
    title: 'Reports that were made',
    list: (n: number) => `Made so far: ${many(n, 'report', 'reports')}`,
    back: 'Back to the report',
    form: (form: 'page' | 'paper' | null): string =>
      form === 'page' ? 'as a page' : form === 'paper' ? 'for paper' : '',
    shared: 'shared with the customer',
    stands: 'It is valid.',
    superseded: (when: string) => `Superseded by the one made ${when}.`,
    withdrawn: (when: string, reason: string) => `Withdrawn ${when}: ${reason}`,
    withdraw: 'Withdraw it',
    withdrawNow: 'Withdraw it now',
    reason: 'Why? The customer reads this.',
  },

  customer: {
    explain:
      'A link that only this customer gets. It opens the report on the shop’s hub, and there they answer each thing that you advise. The link is shown once.',
    link: 'Make a link',
    toLinks: 'To the link',
    ask: 'The customer answers on the report itself: agree, decline or ask, each thing that you advise.',
    later: 'The answer comes later',
    another: 'Make another link',
    days: 'Open for',
    dayChoices: [
      { id: '7', label: '7 days' },
      { id: '30', label: '30 days' },
      { id: '90', label: '90 days' },
    ],
    code: 'Ask for a code',
    codeChoices: keys({ no: 'No code', yes: 'Code by phone' }),
    shown: 'Let the customer scan this, or send it.',
    qr: 'The link as a QR code',
    tell: (code: string) => `Tell them this code by phone: ${code}`,
    made: (when: string) => `Made ${when}.`,
    until: (day: string) => `Open until ${day}.`,
    copy: 'Copy the link',
    copied: 'Copied.',
    sync: 'The hub must have the job before the link opens: exchange now.',
    open: 'Links that are open',
    close: 'Close',
    closing: 'Closing the link…',
    none: 'No answer yet.',
    by: (name: string, when: string) => (name ? `${name}, ${when}` : when),
    says: (answers: number, links: number) =>
      answers > 0
        ? many(answers, 'answer', 'answers')
        : links > 0
          ? 'no answer yet'
          : 'not asked yet',
  },

  sync: {
    explain:
      'The hub is the shop’s own computer. It shows a picture for this phone’s camera, and an address, a one-time code and a fingerprint: enter them once, and the two know each other.',
    isHub: 'This is the hub itself: what is written here is in the shop’s book at once.',
    showCode: 'Show a one-time code',
    phonesPair: 'Phones pair with it, by its address and the one-time code that it shows.',
    address: 'Address',
    addressHint: 'https://…',
    code: 'One-time code',
    fingerprint: 'Fingerprint of its certificate',
    fingerprintHint: 'its first 20 digits',
    first: 'Address and code first',
    pair: 'Pair with the hub',
    now: 'Exchange now',
    other: 'Pair with another hub',
    hub: (address: string) => `Paired with ${address}.`,
    last: (when: string) => `Last exchange: ${when}.`,
    never: 'No exchange yet.',
    waiting: (lines: number, photos: number) =>
      lines + photos === 0
        ? 'The hub has everything.'
        : `Waiting: ${many(lines, 'line', 'lines')}, ${many(photos, 'photo', 'photos')}.`,
  },

  record: {
    byClass: 'By the class that it said',
    bySize: 'By size',
    calibrate: 'Calibrate the classes of new counts',
    calibrates: keys({ off: 'No', on: 'Yes' }),
    repeats: 'How well photos repeat',
    repeatsExplain:
      'Worked out by ISO 5725 from photos of one patch that were said to show the same place, as the machine read them, without corrections.',
  },

  codeTable: {
    title: 'What codes point at',
    explain:
      'A table ties codes to kinds of parts, so that a reading can be held against a code. A shop can put its own rows before it, from a file.',
    says: (rows: number, own: number) =>
      `${many(rows, 'row', 'rows')}, ${own === 0 ? 'none of your own' : `${own} of your own`}.`,
    file: 'File with rows',
    add: 'Put in your own rows from a file',
    added: (name: string) => `Put in: ${name}`,
    show: 'See your own rows',
    remove: 'Take your own rows out',
    gone: 'Taken out: your own rows',
  },

  procedures: {
    explain:
      'A shop can add its own procedure from a file, or a new version of one. Jobs keep the version they began with.',
    file: 'Procedure file',
    add: 'Add a procedure from a file',
    added: (name: string) => `Added: ${name}`,
    newJob: (title: string) => `New job: ${title}`,
    says: (version: number, steps: number, builtIn: boolean) =>
      `version ${version}, ${many(steps, 'step', 'steps')}${builtIn ? ', ships with the book' : ''}`,
  },
};

export type Words = typeof en;
