/** The small library that every drawing is made of. Nobody's gearbox: what all of them have. */
import { box, circle, type Mark } from './mark';

/** In section from the side; the pan's rail is at 0. Context: what is around the work. */
export const gearbox: Mark[] = [
  ['back', 'M-88-68h14l12 10h70l26 12h30v26h-22l-10 14h-98l-8 6h-14z'],
  ['quiet', 'M64-42h22v14h-22M-74-68v74M-62-20h96M-50-46h46v14h-46z'],
];

/** From the side, under the rail. */
export const pan: Mark[] = [
  ['body', 'M-44 6l6 24h76l6-24z'],
  ['body', box(-52, 0, 104, 6)],
];

export const panQuiet: Mark[] = [
  ['back', 'M-44 6l6 24h76l6-24z'],
  ['back', box(-52, 0, 104, 6)],
];

/** As it stands in the fluid, seen through the wall. */
export const inPan: Mark[] = [['fluid', 'M-42 14l4 16h76l4-16z']];

/** From above, with its flange and its holes. */
export const panAbove: Mark[] = [
  ['body', 'M-58-40h116l8 8v64l-8 8h-116l-8-8v-64z'],
  ['line', 'M-46-28h92l4 4v48l-4 4h-92l-4-4v-48z'],
  [
    'line',
    [
      [-46, -34],
      [-16, -34],
      [16, -34],
      [46, -34],
      [-46, 34],
      [-16, 34],
      [16, 34],
      [46, 34],
      [-58, 0],
      [58, 0],
    ]
      .map(([x = 0, y = 0]) => circle(x, y, 3.4))
      .join(''),
  ],
];

/** The same line without its floor, with holes. */
export const gasket: Mark[] = [
  ['line', 'M-58-40h116l8 8v64l-8 8h-116l-8-8v-64zM-48-30h96l4 4v52l-4 4h-96l-4-4v-52z'],
];

export const bolt: Mark[] = [
  ['body', box(-5, 3, 10, 26)],
  ['line', 'M-5 10l10 3M-5 16l10 3M-5 22l10 3'],
  ['solid', box(-10, -9, 20, 9)],
  ['solid', box(-13, 0, 26, 3)],
];

export const boltShort: Mark[] = [
  ['body', box(-5, 3, 10, 14)],
  ['line', 'M-5 8l10 3'],
  ['solid', box(-10, -9, 20, 9)],
  ['solid', box(-13, 0, 26, 3)],
];

export const hexagon = (r: number): string =>
  `M${r} 0L${r / 2} ${r * 0.866}H${-r / 2}L${-r} 0L${-r / 2} ${-r * 0.866}H${r / 2}z`;

/** Its thread upwards, its head below the wall that is at 0. */
export const plug: Mark[] = [
  ['body', box(-6, -12, 12, 12)],
  ['line', 'M-6-9l12 3M-6-5l12 3'],
  ['solid', box(-12, 3, 24, 11)],
  ['on', 'M-4 3v11M4 3v11'],
];

export const plugQuiet: Mark[] = [['back', box(-10, 0, 20, 10)]];

export const washer: Mark[] = [['solid', box(-14, 0, 28, 3.5)]];

export const drop: Mark[] = [['solid', 'M0-9c5 7 7 10 7 13a7 7 0 1 1-14 0c0-3 2-6 7-13z']];
export const dropSmall: Mark[] = [['solid', 'M0-5c3 4 4 6 4 8a4 4 0 1 1-8 0c0-2 1-4 4-8z']];

/** Falls from 0 for so far. */
export const trickle = (far: number): Mark[] => [['line', `M0 0v${far}`]];
export const stream = (far: number): Mark[] => [
  ['fluid', box(-5, 0, 10, far)],
  ['line', `M-5 0v${far}M5 0v${far}`],
];

/** A measuring jug, so many units full. */
export const jug = (full: number): Mark[] => [
  ['fluid', box(-26, 44 - full, 52, full)],
  ['line', 'M-28 0v44h56v-44M28 6h10v24h-10'],
  ['line', 'M-28 34h10M-28 24h14M-28 14h10'],
];

export const connector: Mark[] = [
  ['body', box(-30, -20, 60, 40)],
  ['line', 'M-12-20v-7h24v7M30-10h8v20h-8'],
  ['solid', [-18, -6, 6, 18].map((x) => circle(x, -8, 3.4) + circle(x, 8, 3.4)).join('')],
];
export const loom: Mark[] = [
  ['line', 'M38-5c14 0 14 10 30 10M38 0c14 0 14 14 30 14M38 5c14 0 10 18 30 18'],
];

/** Coil, nose with its rings, two pins. */
export const solenoid: Mark[] = [
  ['body', box(-24, -14, 36, 28)],
  ['body', box(12, -8, 24, 16)],
  ['line', 'M18-8v16M26-8v16M-24-6h-10M-24 6h-10'],
  ['line', 'M-18-8h24M-18 0h24M-18 8h24'],
];
export const solenoidSolid: Mark[] = [
  ['solid', box(-24, -14, 36, 28)],
  ['solid', box(12, -8, 24, 16)],
  ['line', 'M-24-6h-10M-24 6h-10'],
  ['on', 'M18-8v16M26-8v16M-18-5h24M-18 5h24'],
];

/** With what sticks to it. */
export const magnet: Mark[] = [
  ['solid', `${circle(0, 0, 17)}${circle(0, 0, 7)}`],
  [
    'line',
    'M0-17v-6M12-12l4-5M17 0h6M12 12l5 4M0 17v6M-12 12l-4 5M-17 0h-6M-12-12l-5-4M7-16l2-5M16 7l5 2M-7 16l-2 5M-16-7l-5-2',
  ],
];
export const magnetClean: Mark[] = [['solid', `${circle(0, 0, 15)}${circle(0, 0, 6)}`]];

export const filter: Mark[] = [
  ['body', 'M-50-8h100l4 6v6l-4 6h-100l-4-6v-6z'],
  ['body', 'M14-8v-16h20v16'],
  ['line', 'M12-20h24M-40-2h50M-40 4h80'],
];

/** Any meter: a display, a switch, two sockets. */
export const meter: Mark[] = [
  ['body', 'M-24-36h48l4 4v64l-4 4h-48l-4-4v-64z'],
  ['solid', box(-19, -29, 38, 18)],
  ['on', 'M-12-24v8h6M0-24h8v8h-8z'],
  ['line', `${circle(0, 6, 9)}M0 6l5-5`],
  ['line', `${circle(-10, 26, 3)}${circle(10, 26, 3)}`],
];
/** Its tip at 0. */
export const probe: Mark[] = [
  ['line', 'M0 0v-16'],
  ['solid', 'M-4-16h8l2-30h-12z'],
];

/** Its square at 0, its grip to the right. */
export const wrench: Mark[] = [
  ['body', box(8, -4, 66, 8)],
  ['solid', 'M74-7h34l4 3v8l-4 3h-34z'],
  ['body', circle(0, 0, 11)],
  ['line', 'M56-4v8M62-4v8M68-4v8'],
];

/** So many units of 44 full. */
export const thermometer = (full: number): Mark[] => [
  ['body', 'M-5-44v40a9 9 0 1 0 10 0v-40a5 5 0 0 0-10 0z'],
  ['solid', `${circle(0, 4, 5)}${box(-2, -full, 4, full + 2)}`],
  ['line', 'M8-40h6M8-30h6M8-20h6M8-10h6'],
];

/** Hot: keep off. */
export const heat: Mark[] = [
  ['thick', 'M0 0c-5-7 5-11 0-18M12 0c-5-7 5-11 0-18M24 0c-5-7 5-11 0-18'],
];

/** In a glove, a finger on 0, from the right. */
export const hand: Mark[] = [
  [
    'body',
    'M4-5a5 5 0 0 0 0 10h28h-2a5 5 0 0 0 0 10h4a5 5 0 0 0 0 10h6c2 6 6 8 12 8h12l16-6v-44l-18-8h-12c-8 0-10 4-16 8l-10 12z',
  ],
  ['line', 'M30 5h14M34 15h12'],
  ['solid', 'M80-20h10v50h-10z'],
];

export const car: Mark[] = [
  ['body', 'M-64 0v-16l8-5 20-4 18-17h36l24 17 20 5v20z'],
  ['line', 'M-30-26l14-12h12v12zM4-38h12l16 12h-28z'],
  ['body', `${circle(-38, 0, 11)}${circle(36, 0, 11)}`],
  ['solid', `${circle(-38, 0, 4)}${circle(36, 0, 4)}`],
];

/** Under the wheels at 0: two posts with their arms, the locks solid. */
export const lift: Mark[] = [
  ['back', `${box(-88, -70, 12, 116)}${box(76, -70, 12, 116)}`],
  ['quiet', 'M-100 46h200'],
  ['line', 'M-76 10h50M76 10h-50M-40 10v-6M40 10v-6'],
  ['solid', `${box(-92, 4, 20, 12)}${box(72, 4, 20, 12)}`],
];

/** Its head at 0. */
export const stand: Mark[] = [
  ['solid', box(-9, 0, 18, 4)],
  ['line', 'M0 4v16M-4 14h8'],
  ['body', 'M-4 16h8l12 22h-32z'],
];

/** White paper with what lay in the pan. */
export const patch: Mark[] = [
  ['body', 'M-34-26h68v52h-68z'],
  [
    'solid',
    'M-22-10l5-2 1 4zM-6-16l3 3-4 1zM6-4l8-3-2 5zM-16 6l3-3 2 4zM0 10l6-1-3 4zM16 8l2-6 3 4zM-24 16l4-1-1 4zM20-16l4 2-5 2zM-4 0h3v3h-3z',
  ],
];

/** The gauge card, by its four corners and its steps of grey. */
export const card: Mark[] = [
  ['body', box(-20, -13, 40, 26)],
  ['solid', `${box(-17, -10, 7, 7)}${box(10, -10, 7, 7)}${box(-17, 3, 7, 7)}${box(10, 3, 7, 7)}`],
  ['line', 'M-6-2h12M-6 3h12'],
];

/** From the side, its lens down; what it sees so far below. */
export const phone = (far: number, wide = 34): Mark[] => [
  ['solid', 'M-27-5h54l3 3v4l-3 3h-54l-3-3v-4z'],
  ['dash', `M-5 6L${-wide} ${far}M5 6L${wide} ${far}`],
];

export const loupe: Mark[] = [
  ['line', circle(0, 0, 22)],
  ['thick', 'M16 16l20 20'],
];

/** Lit to the left. */
export const lamp: Mark[] = [
  ['solid', 'M0-9l12 4h26v10h-26l-12 4z'],
  ['dash', 'M-4-10l-30-14M-6 0h-34M-4 10l-30 14'],
];

/** The car's own socket by ISO 15031-3: two rows of eight. */
export const socket: Mark[] = [
  ['body', 'M-36-16h72l-8 32h-56z'],
  [
    'solid',
    [-21, -15, -9, -3, 3, 9, 15, 21]
      .map((x) => box(x - 1.6, -9, 3.2, 6) + box(x - 1.6, 3, 3.2, 6))
      .join(''),
  ],
];
export const lead: Mark[] = [['line', 'M0 0c0 22 30 6 30 30']];

export const sheet: Mark[] = [
  ['body', 'M-26-36h42l10 10v62h-52z'],
  ['line', 'M16-36v10h10'],
];
export const written: Mark[] = [['line', 'M-18-16h30M-18-6h34M-18 4h26']];
export const signed: Mark[] = [['thick', 'M-18 24c6-10 8-6 8 0s6 2 8-3 4 6 10 2']];
export const ticked: Mark[] = [['thick', 'M-9 0l6 7 13-15']];
export const crossed: Mark[] = [['thick', 'M-9-9l18 18M9-9l-18 18']];
/** This not. */
export const not: Mark[] = [['thick', `${circle(0, 0, 18)}M-12.5-12.5l25 25`]];

export const bubble: Mark[] = [
  ['body', 'M-52-32h104v50h-66l-18 18v-18h-20z'],
  ['line', 'M-38-16h76M-38-4h60M-38 8h40'],
];
/** What it does: it jolts. */
export const jolt: Mark[] = [['thick', 'M0 0l8-16 8 26 8-34 8 34 8-18 6 8']];

export const wheel: Mark[] = [
  ['body', circle(0, 0, 34)],
  ['line', circle(0, 0, 22)],
  ['solid', circle(0, 0, 7)],
  ['line', 'M0-7v-15M6.7-2l14-5M4 5.700l9 12M-4 5.700l-9 12M-6.700-2l-14-5'],
];

/** The gate that the lever goes through, a stop in each. */
export const gate: Mark[] = [
  ['body', 'M-13-52h26v104h-26z'],
  ['line', 'M0-42v84'],
  ['solid', [-38, -13, 12, 37].map((y) => circle(0, y, 5)).join('')],
];

export const bottle: Mark[] = [
  ['body', 'M-18-22h36l6 10v52h-48v-52z'],
  ['solid', 'M-7-36h14v12h-14z'],
  ['fluid', box(-24, 6, 48, 34)],
  ['line', 'M-24 6h48'],
];

export const barrel: Mark[] = [
  ['body', 'M-26-34h52v68h-52z'],
  ['line', 'M-28-34h56M-28-12h56M-28 12h56M-28 34h56'],
];

export const cloth: Mark[] = [
  ['body', 'M-24-10c8-8 14 2 22-4s14-6 26 0l-2 22c-10 6-16-4-24 2s-14 0-20-2z'],
  ['line', 'M-14-4c4 4 6 8 4 14M4-8c4 6 4 10 2 16'],
];
export const spray: Mark[] = [
  ['body', 'M-11-14h22v40h-22z'],
  ['body', 'M-7-22h14v8h-14z'],
  ['dash', 'M-12-20l-16-8M-12-18h-18M-12-16l-16 8'],
];

/** Protective earth: IEC 60417-5017. */
export const earth: Mark[] = [['thick', 'M0-16v16M-16 0h32M-10 7h20M-4 14h8']];

export const letter: Mark[] = [
  ['body', box(-34, -22, 68, 44)],
  ['line', 'M-34-22l34 26 34-26'],
];

/** A bracket of the maker's window beside a scale. */
export const bracket: Mark[] = [['thick', 'M8-10h-8v20h8']];

export const brace: Mark[] = [['solid', 'M-60-5h18l6 8h72l6-8h18v8h-14l-6 8h-80l-6-8h-14z']];

/** The way that something goes: from 0 so far to the right. */
export const arrow = (far: number): Mark[] => [['thick', `M0 0h${far}M${far - 9}-8l9 8l-9 8`]];
/** Turned: half around 0, clockwise; mirrored for undoing. */
export const turnArrow = (r: number): Mark[] => [
  ['thick', `M${-r} 0a${r} ${r} 0 0 1 ${2 * r} 0M${r - 9}-8l9 9l8-10`],
];
