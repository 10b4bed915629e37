/** The gearbox, its parts and fluid, and what measures them. */
import { box, circle, type Mark } from '../mark';

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
  ['on', 'M-10-24h8v8h-8zM4-24v8h6'],
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
