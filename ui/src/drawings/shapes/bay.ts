/** Hands, car, lift, camera, papers and what else lies about in the bay. */
import { box, circle, type Mark } from '../mark';

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
/** A ring with a bar across: what stands under it is not to be done. */
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
