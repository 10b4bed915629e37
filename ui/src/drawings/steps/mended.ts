/** From the test of the parts to the report. */
import { box, circle, type Drawing, put } from '../mark';
import * as s from '../shapes';
import { codes } from './codes';
import { dash, line, quiet, solid, thick } from './lines';

export const mended: Record<string, Drawing> = {
  components: [
    put(s.connector, 62, 76, { scale: 1.3 }),
    put(line('M102 60h30v-32h20M102 76h50M102 92h30v32h20')),
    put(s.solenoid, 186, 28, { scale: 0.9 }),
    put(s.solenoid, 186, 76, { scale: 0.9 }),
    put(s.solenoid, 186, 124, { scale: 0.9 }),
  ],
  resistance: [
    put(s.meter, 194, 62, { scale: 1.25 }),
    put(s.solenoid, 64, 100, { scale: 1.5 }),
    put(s.probe, 12, 91, { turn: 24, scale: 0.95 }),
    put(line('M30 48C40 6 150 4 150 60s12 36 26 36')),
    put(s.probe, 12, 109, { turn: 152, scale: 0.9 }),
    put(line('M32 150C70 150 160 150 208 100')),
  ],
  insulation: [
    put(s.meter, 194, 62, { scale: 1.25 }),
    put(s.solenoid, 74, 84, { scale: 1.5 }),
    put(s.probe, 22, 75, { turn: 10, scale: 0.9 }),
    put(line('M30 32C60 2 140 4 150 62s14 34 30 34')),
    put(s.probe, 112, 96, { turn: 158, scale: 0.9 }),
    put(line('M126 140c30 10 70 4 82-40')),
    put(s.earth, 58, 120, { scale: 0.9 }),
  ],
  explains: [
    put(s.sheet, 42, 74, { scale: 1.15 }),
    put(s.written, 42, 74, { scale: 1.15 }),
    put(s.arrow(20), 80, 74),
    put(s.solenoidSolid, 136, 74, { scale: 0.95 }),
    put(s.arrow(18), 176, 74),
    put(s.jolt, 202, 76, { scale: 0.8 }),
    put(quiet('M14 130h212')),
  ],

  'part-replaced': [
    put([['back', 'M14 14h212v46h-212z']]),
    put([
      ['body', 'M80 60v-26h84v26'],
      ['quiet', 'M100 34h44'],
    ]),
    put(s.solenoid, 60, 112, { scale: 1.1 }),
    put(s.crossed, 60, 112, { scale: 1.4 }),
    put(s.solenoidSolid, 178, 112, { scale: 1.1 }),
    put(thick('M96 66q-26 0-32 24M56 80l8 11 9-10')),
    put(thick('M176 90q-4-24-30-26M156 54l-11 9 10 10')),
  ],
  'filter-replaced': [
    put([
      ['back', 'M20 6h180v30h-180z'],
      ['quiet', 'M128 36v-14h28v14'],
    ]),
    put(s.filter, 108, 106, { scale: 1.4 }),
    put(solid(box(124, 62, 36, 6))),
    put(thick('M142 58V44M134 52l8-9 8 9')),
    put([
      ['line', circle(36, 66, 13)],
      ['line', circle(36, 66, 8)],
    ]),
    put(s.crossed, 36, 66, { scale: 1.3 }),
    put(s.hand, 186, 112, { scale: 0.6 }),
  ],
  cleanliness: [
    put([
      ['body', box(16, 40, 108, 74)],
      ['line', 'M30 58h60M30 77h80M30 96h44'],
      ['solid', `${circle(106, 58, 5)}${circle(92, 96, 5)}`],
    ]),
    put(s.cloth, 132, 116, { scale: 0.9 }),
    put(s.drop, 144, 56, { scale: 1.2 }),
    put(s.spray, 206, 74, { scale: 1.1 }),
    put(s.not, 202, 74, { scale: 1.9 }),
  ],

  'pan-clean': [
    put(s.gasket, 104, 34, { scale: 0.75 }),
    put(thick('M104 66v10M98 70l6 7 6-7')),
    put(s.panAbove, 104, 114, { scale: 0.8 }),
    put(s.magnetClean, 82, 114, { scale: 0.75 }),
    put(s.magnetClean, 126, 114, { scale: 0.75 }),
    put(s.cloth, 200, 108),
    put(s.drop, 200, 62),
  ],
  'pan-bolts': [
    put(s.panAbove, 92, 76, { scale: 1.4 }),
    put(thick('M74 28L110 124M113 112l-2 13-11-8')),
    put(thick('M110 28L74 124M70 111l4 14 10-8')),
    put(thick('M18 76h146M154 67l11 9-11 9')),
    put(s.wrench, 196, 126, { turn: -66, scale: 0.8 }),
  ],
  'drain-plug': [
    put([['back', 'M20 26h172v24h-172z']]),
    put([['quiet', box(92, 26, 28, 24)]]),
    put([['line', 'M92 26v24M120 26v24']]),
    put([['solid', box(78, 62, 56, 7)]]),
    put(s.plug, 106, 104, { scale: 2 }),
    put(s.wrench, 132, 122, { turn: -14, scale: 0.95 }),
    put(thick('M60 110v-34M51 86l9-11 9 11')),
    put(s.turnArrow(20), 38, 122),
  ],

  'first-fill': [
    put(s.gearbox, 104, 96),
    put(s.panQuiet, 92, 96),
    put(s.inPan, 92, 96),
    put(s.bottle, 204, 104),
    put([['line', 'M204 66c0-30-14-36-40-36v24']]),
    put(s.arrow(20), 164, 60, { turn: 180 }),
    put(thick('M92 122v-14M85 115l7-8 7 8')),
  ],
  gears: [
    put(s.gate, 62, 76, { scale: 1.2 }),
    put(s.hand, 74, 31, { scale: 0.62 }),
    put(thick('M34 40v74M26 104l8 11 8-11')),
    put(s.wheel, 184, 84),
    put(thick('M184 40a44 44 0 0 1 42 32M217 64l10 9 6-12')),
    put(quiet('M140 130h90')),
  ],
  level: [
    put(s.panQuiet, 84, 30, { scale: 1.3 }),
    put([['fluid', 'M36 50l4 19h88l4-19z']]),
    put([['body', box(80, 46, 8, 24)]]),
    put(s.trickle(44), 84, 72),
    put(s.dropSmall, 84, 124),
    put(quiet('M40 138h88')),
    put(s.thermometer(22), 180, 84, { scale: 1.3 }),
    put(s.bracket, 208, 58, { mirror: true, scale: 1.2 }),
    put(s.heat, 36, 108, { scale: 1.1 }),
  ],
  'plugs-closed': [
    put(s.gearbox, 104, 82),
    put(s.pan, 92, 82),
    put(s.plug, 168, 51, { turn: -90 }),
    put(s.washer, 92, 116),
    put(s.plug, 92, 118),
    put(s.turnArrow(17), 204, 52),
    put(s.turnArrow(17), 128, 134),
    put(s.ticked, 196, 112, { scale: 1.5 }),
  ],

  'leak-warm': [
    put(s.gearbox, 96, 80),
    put(s.panQuiet, 84, 80),
    put(s.lamp, 186, 118, { turn: 18 }),
    put(s.heat, 30, 134),
    put(s.dropSmall, 134, 92),
    put([['line', circle(134, 92, 16)]]),
  ],
  cleared: [
    ...codes([['dash', 'M-18-16h30M-18-6h34M-18 4h26']]),
    put(thick('M40 120a20 20 0 1 0 6-26M44 82l0 13 13 0')),
  ],
  'road-test': [
    put(s.wheel, 70, 82, { scale: 1.25 }),
    put(quiet('M10 126h220')),
    put(dash('M10 138h220')),
    put(thick('M122 104h22v-22h22v-22h22v-22h20M200 29l10 9-10 9')),
  ],
  'codes-after': [
    ...codes([['thick', 'M-14 6l10 12 20-26']]),
    put(s.dropSmall, 40, 116, { scale: 1.4 }),
    put([['line', circle(40, 116, 17)]]),
  ],

  report: [
    put(s.sheet, 76, 72, { scale: 1.6 }),
    put(
      [
        ['line', 'M-18-16h30M-18-8h34'],
        ['solid', 'M-18 0h14v14h-14z'],
        ['line', 'M0 4h14M0 11h10'],
      ],
      76,
      66,
      { scale: 1.6 },
    ),
    put(s.signed, 76, 82, { scale: 1.6 }),
    put(s.hand, 124, 70, { scale: 0.8 }),
    put([
      ['body', box(160, 112, 60, 28)],
      ['line', 'M160 112l10-10h40l10 10'],
    ]),
  ],
  answer: [
    put(s.letter, 74, 76, { scale: 1.35 }),
    put(s.arrow(24), 130, 76),
    put([
      ['body', box(172, 14, 50, 34)],
      ['body', box(172, 58, 50, 34)],
      ['body', box(172, 102, 50, 34)],
    ]),
    put(s.ticked, 197, 33, { scale: 0.9 }),
    put(s.crossed, 197, 75, { scale: 0.9 }),
    put(thick('M190 114c0-7 14-7 14 0 0 5-7 5-7 10M197 129v2')),
  ],
  waste: [
    put(s.barrel, 72, 94, { scale: 1.1 }),
    put(s.drop, 72, 94, { scale: 1.1 }),
    put(thick('M72 8v34M64 33l8 10 8-10')),
    put(s.barrel, 172, 94, { scale: 1.1 }),
    put(s.cloth, 172, 94, { scale: 0.85 }),
    put(thick('M172 8v34M164 33l8 10 8-10')),
  ],
};
