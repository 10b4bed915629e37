/** Those of the bench: limits, readings, wires, tightening, and what follows from them. */
import type { ComponentKind } from '../door/types/ComponentKind';
import { keys } from './choices';
import { say } from './say';

export const ofBench = {
  bench: {
    get byCase() {
      return keys({ case: say('bench-by-case-case') });
    },
    suggest: (kind: ComponentKind): string[] =>
      kind === 'temperature_sensor'
        ? [say('bench-suggest-temperature')]
        : kind === 'speed_sensor'
          ? [say('bench-suggest-input-speed'), say('bench-suggest-output-speed')]
          : kind === 'other'
            ? []
            : [...'ABCDEFGH'].map((letter) => say('bench-suggest-solenoid', { letter })),
    get sourceKeys() {
      return [say('bench-source-keys-1'), say('bench-source-keys-2'), say('bench-source-keys-3')];
    },
  },
  limits: {
    get forms() {
      return keys({
        range: say('limits-forms-range'),
        table: say('limits-forms-table'),
        b_value: say('limits-forms-b-value'),
      });
    },
  },
  readings: {
    field: (
      field: 'sample' | 'leads' | 'part' | 'top' | 'volts' | 'applied',
      value: string,
      degrees: string,
    ): string =>
      ({
        sample: value,
        leads: value ? say('readings-field-leads', { value }) : say('readings-field-leads-unknown'),
        part: value
          ? say('readings-field-part', { value, degrees })
          : say('readings-field-part-unknown', { degrees }),
        top: value ? say('readings-field-top', { value }) : say('readings-field-top-unknown'),
        volts: value ? say('readings-field-volts', { value }) : say('readings-field-volts-unknown'),
        applied: value
          ? say('readings-field-applied', { value })
          : say('readings-field-applied-unknown'),
      })[field],
    get froms() {
      return keys({
        probe_at_part: say('readings-froms-probe-at-part'),
        infrared: say('readings-froms-infrared'),
        scan_data: say('readings-froms-scan-data'),
        surroundings: say('readings-froms-surroundings'),
      });
    },
    /** Why nothing is read off the display. */
    get unread() {
      return {
        none: say('readings-display-none'),
        cut_off: say('readings-display-cut-off'),
        too_small: say('readings-display-too-small'),
        doubtful: say('readings-display-doubtful'),
        no_number: say('readings-display-no-number'),
      };
    },
    get contactBy() {
      return {
        leads: say('readings-contact-by-leads'),
        sibling: (name: string) => say('readings-contact-by-sibling', { name }),
        ticked: say('readings-contact-by-ticked'),
        not: say('readings-contact-by-not'),
      };
    },
    get contactKeys() {
      return {
        leads: say('readings-contact-keys-leads'),
        sibling: (name: string) => say('readings-contact-keys-sibling', { name }),
        ticked: say('readings-contact-keys-ticked'),
        not: say('readings-contact-keys-not'),
      };
    },
    get bys() {
      return keys({ meter: say('readings-bys-meter'), clamp: say('readings-bys-clamp') });
    },
    get clicks() {
      return keys({ heard: say('readings-clicks-heard'), none: say('readings-clicks-none') });
    },
  },
  harness: {
    get looks() {
      return {
        c: (first: string, second: string) => say('harness-looks-c', { first, second }),
        c1: (first: string) => say('harness-looks-c1', { first }),
        c2: (_: string, second: string) => say('harness-looks-c2', { second }),
        p: () => say('harness-looks-p'),
        p1: (first: string) => say('harness-looks-p1', { first }),
        p2: (_: string, second: string) => say('harness-looks-p2', { second }),
        w1: (first: string) => say('harness-looks-w1', { first }),
        w2: (_: string, second: string) => say('harness-looks-w2', { second }),
        leads: () => say('harness-looks-leads'),
      };
    },
  },
  tighten: {
    get hows() {
      return keys({
        feel: say('tighten-hows-feel'),
        angle: say('tighten-hows-angle'),
        by_hand: say('tighten-hows-by-hand'),
      });
    },
    write: (what: string, torque: string) =>
      say('tighten-write', { what, torque: torque || say('tighten-to-feel') }),
  },
  plan: {
    get mores() {
      return keys({ adapter: say('plan-mores-adapter'), sealant: say('plan-mores-sealant') });
    },
    get angles() {
      return keys({ '0': say('plan-angles-0'), '45': '45°', '90': say('plan-angles-90') });
    },
    get tools() {
      return keys({
        none: say('plan-tools-none'),
        scale: say('plan-tools-scale'),
        percent: say('plan-tools-percent'),
      });
    },
  },
  replace: {
    atOnce: (what: string) =>
      keys({
        kept: say('replace-at-once-kept', { what }),
        not: say('replace-at-once-not', { what }),
      }),
    get olds() {
      return keys({ kept: say('replace-olds-kept'), not: say('replace-olds-not') });
    },
  },
  decision: {
    get choices() {
      return {
        carry_on: say('decision-choices-carry-on'),
        watch: say('decision-choices-watch'),
        test_first: say('decision-choices-test-first'),
        open_up: say('decision-choices-open-up'),
      };
    },
    get reasons() {
      return [
        say('decision-reasons-1'),
        say('decision-reasons-2'),
        say('decision-reasons-3'),
        say('decision-reasons-4'),
      ];
    },
  },
};
