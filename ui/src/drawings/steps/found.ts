/** From the car on the lift to what the pan says. */
import { box, circle, type Drawing, put } from '../mark';
import * as s from '../shapes';
import { codes } from './codes';
import { dash, line, quiet, solid, thick } from './lines';

const UNDO = { mirror: true };

export const found: Record<string, Drawing> = {
  car: [
    put(quiet('M10 106h150')),
    put(s.car, 84, 94, { scale: 1.1 }),
    put(solid(box(4, 76, 10, 10))),
    put(line('M14 70L34 34')),
    put([
      ['body', box(16, 10, 84, 24)],
      [
        'solid',
        `${box(24, 17, 8, 10)}${box(37, 17, 8, 10)}${box(50, 17, 8, 10)}${box(68, 17, 8, 10)}${box(81, 17, 8, 10)}`,
      ],
    ]),
    put([
      ['body', box(168, 52, 62, 24)],
      ['line', 'M180 52v24M193 52v24M205 52v24'],
      ['solid', box(217, 52, 13, 24)],
    ]),
    put(dash('M160 84q22 4 34-6')),
  ],
  complaint: [
    put(s.bubble, 70, 48, { scale: 1.05 }),
    put(s.jolt, 150, 54, { scale: 1.2 }),
    put(s.car, 152, 126, { scale: 0.75 }),
    put(quiet('M84 135h150')),
  ],
  'codes-before': codes([
    ...s.written,
    ['solid', `${circle(-21, -16, 2)}${circle(-21, -6, 2)}${circle(-21, 4, 2)}`],
  ]),
  'go-ahead': [
    put(s.sheet, 78, 74, { scale: 1.6 }),
    put(s.written, 78, 68, { scale: 1.6 }),
    put(s.signed, 78, 80, { scale: 1.6 }),
    put([
      ['body', box(128, 20, 92, 34)],
      ['line', 'M140 37h40'],
      ['solid', box(188, 30, 22, 14)],
    ]),
    put(s.hand, 126, 98, { scale: 0.9, turn: 8 }),
  ],

  secured: [
    put(s.lift, 120, 88),
    put(s.car, 120, 86, { scale: 1.15 }),
    put(s.stand, 76, 100, { scale: 0.9 }),
    put(s.stand, 164, 100, { scale: 0.9 }),
  ],
  'fill-plug': [
    put(s.gearbox, 104, 92),
    put(s.panQuiet, 92, 92),
    put(s.inPan, 92, 92),
    put(s.plug, 168, 61, { turn: -90 }),
    put(s.wrench, 192, 61, { turn: 44, scale: 0.62 }),
    put(s.turnArrow(18), 190, 34, UNDO),
    put(s.plugQuiet, 92, 122),
    put(s.crossed, 92, 138, { scale: 0.7 }),
  ],
  'covers-off': [
    put(s.gearbox, 96, 76, { scale: 0.8 }),
    put(s.panQuiet, 88, 76, { scale: 0.8 }),
    put(s.brace, 88, 112, { scale: 0.9 }),
    put(thick('M88 120v18M81 131l7 8 7-8')),
    put([
      ['body', box(162, 26, 68, 102)],
      ['line', 'M162 60h68M162 94h68'],
    ]),
    put(s.bolt, 176, 44, { scale: 0.75, turn: -90 }),
    put(s.bolt, 176, 78, { scale: 0.75, turn: -90 }),
    put(s.boltShort, 176, 112, { scale: 0.75, turn: -90 }),
  ],

  'plugs-known': [
    put(s.gearbox, 100, 64, { scale: 0.9 }),
    put(s.pan, 100, 64, { scale: 1.5 }),
    put([['fluid', 'M44 88l5 21h102l5-21z']]),
    put([['body', box(76, 84, 8, 26)]]),
    put(s.plug, 80, 112),
    put(s.plug, 128, 112),
    put(dash('M30 86h150')),
    put(thick('M128 130v12M122 137l6 6 6-6')),
    put(s.bracket, 196, 86, { mirror: true }),
  ],
  drained: [
    put(s.panQuiet, 84, 10),
    put(s.stream(48), 84, 42),
    put(s.jug(26), 84, 92),
    put(s.thermometer(26), 158, 62),
    put(s.heat, 112, 64),
    put(s.drop, 200, 38),
    put(s.loupe, 200, 38, { scale: 0.9 }),
    put(s.plug, 150, 128, { turn: 90, scale: 0.8 }),
  ],
  'fluid-sample': [
    put([['body', 'M20 112h150l20 26h-190z']]),
    put(s.drop, 74, 84),
    put(s.dropSmall, 74, 58),
    put([['fluid', 'M54 124a20 7 0 1 0 40 0a20 7 0 1 0-40 0z']]),
    put(s.card, 132, 125, { scale: 0.62 }),
    put(s.phone(88, 52), 112, 20),
  ],

  'pan-photo': [
    put(s.phone(52, 60), 88, 14),
    put(s.panAbove, 88, 100),
    put(
      solid(
        'M52 104l6-2 1 4zM70 118l4-3 2 4zM60 90l3-3 2 4zM80 92l6-1-3 4zM86 116h4v3h-4zM98 122l5-2-1 4z',
      ),
    ),
    put(s.card, 118, 98, { scale: 0.7, turn: 6 }),
    put(s.cloth, 202, 96, { scale: 0.8 }),
    put(s.not, 202, 96, { scale: 1.5 }),
  ],
  magnets: [
    put(s.phone(40, 40), 92, 16),
    put([['body', 'M10 66h164v72h-164z']]),
    put(s.magnet, 62, 102, { scale: 1.25 }),
    put(s.magnet, 126, 102, { scale: 1.25 }),
    put(s.cloth, 208, 100, { scale: 0.7 }),
    put(s.not, 208, 100, { scale: 1.4 }),
  ],
  patch: [
    put(s.patch, 74, 88, { scale: 1.7 }),
    put(s.card, 162, 112, { scale: 0.95 }),
    put(s.magnetClean, 176, 38, { scale: 1.2 }),
    put(thick('M150 44q-30 2-44 22M104 54l1 13 12-4')),
  ],
  census: [
    put(s.patch, 92, 78, { scale: 2 }),
    put(s.loupe, 92, 72, { scale: 1.5 }),
    put(s.ticked, 198, 46, { scale: 1.3 }),
    put(s.crossed, 198, 96),
    put(line('M180 124h40M180 132h26')),
  ],
  'filter-read': [
    put(s.filter, 84, 52, { scale: 1.4 }),
    put(dash('M8 66h154')),
    put([
      ['body', 'M14 104h140l-8 26h-124z'],
      ['solid', 'M50 116l5-2 1 4zM78 112l4 3-5 1zM104 118l6-2-2 5zM122 110h3v3h-3z'],
    ]),
    put(s.lamp, 196, 108, { turn: -6 }),
    put(s.hand, 160, 66, { scale: 0.7 }),
  ],
};
