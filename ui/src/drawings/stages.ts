/** One mark a stage: a place of the work, small enough for the spine. Units: 48 x 48 around 0. */
import { box, circle, type Mark } from './mark';
import { hexagon } from './shapes';

export const stages: Record<string, readonly Mark[]> = {
  'take-in': [
    ['body', 'M-20 8v-8l4-3 6-2 6-8h12l8 8 4 3v10z'],
    ['body', `${circle(-11, 9, 5)}${circle(9, 9, 5)}`],
  ],
  'open-up': [
    ['body', 'M-14-4v-5l4-2 4-6h10l6 6 4 2v5z'],
    ['line', 'M-18 0h36M-20 18v-28M20 18v-28M-22 18h44'],
    ['solid', `${box(-23, -2, 6, 5)}${box(17, -2, 6, 5)}`],
  ],
  drain: [
    ['body', 'M-20-18h40l-5 14h-30z'],
    ['solid', 'M0 1c5 7 8 10 8 13a8 8 0 1 1-16 0c0-3 3-6 8-13z'],
  ],
  'read-the-pan': [
    ['body', 'M-17-16h34l4 4v24l-4 4h-34l-4-4v-24z'],
    ['solid', `${circle(-7, 0, 6.5)}`],
    ['solid', 'M6-6l5-2 1 4zM8 6l3-3 2 4zM2 9h3v3h-3z'],
  ],
  test: [
    ['body', 'M-18-12h36v24h-36z'],
    ['line', 'M-7-12v-6h14v6'],
    ['solid', [-10, 0, 10].map((x) => circle(x, -4, 2.6) + circle(x, 5, 2.6)).join('')],
  ],
  'put-right': [
    ['body', box(-16, -10, 22, 20)],
    ['body', box(6, -6, 14, 12)],
    ['line', 'M11-6v12M-16-4h-6M-16 4h-6'],
  ],
  'close-up': [
    ['body', hexagon(17)],
    ['line', circle(0, 0, 8)],
  ],
  fill: [
    ['body', 'M-16-18h32l-11 16v10h-10v-10z'],
    ['solid', 'M0 10c2.500 3.500 4 5 4 6.500a4 4 0 1 1-8 0c0-1.500 1.500-3 4-6.500z'],
  ],
  prove: [
    ['body', circle(0, -1, 15)],
    ['solid', circle(0, -1, 4)],
    ['line', 'M-22 18h44'],
  ],
  'hand-over': [
    ['body', box(-19, -13, 38, 26)],
    ['line', 'M-19-13l19 15 19-15'],
  ],
};

/** For a stage of a shop's own. */
export const anyStage: readonly Mark[] = [
  ['body', hexagon(15)],
  ['solid', circle(0, 0, 5)],
];
