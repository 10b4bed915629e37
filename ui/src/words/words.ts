/**
 * Texts that come as lists, or that are chosen by what is known. Each is a message of
 * `core/words`; a text that is simply said is said by its id where it stands.
 */
import { rowIn } from '../door/tables';
import type { PhotoSubject } from '../door/types/PhotoSubject';
import { readingTable } from '../door/types/readingTable';
import type { WantView } from '../door/types/WantView';
import { language } from './language.svelte';
import { ofBench } from './bench';
import { keys } from './choices';
import { say } from './say';

export const words = {
  get subjects() {
    return {
      patch: say('subjects-patch'),
      patch_after_magnet: say('subjects-patch-after-magnet'),
      pan: say('subjects-pan'),
      magnet: say('subjects-magnet'),
      place: say('subjects-place'),
      filter: say('subjects-filter'),
      part: say('subjects-part'),
      leak: say('subjects-leak'),
      other: say('subjects-other'),
      display: say('subjects-display'),
    };
  },
  get standing() {
    return {
      later: say('standing-later'),
      in_hand: say('standing-in-hand'),
      done: say('standing-done'),
      skipped: say('standing-skipped'),
      passed: say('standing-passed'),
    };
  },
  keypad: {
    get names() {
      return {
        '-': say('keypad-names-minus'),
        '>': say('keypad-names-above'),
        k: say('keypad-names-k'),
        M: say('keypad-names-m'),
        OL: 'OL',
      } as Record<string, string>;
    },
  },
  tour: {
    get pages() {
      return [
        { drawing: 'secured', title: say('tour-pages-1-title'), text: say('tour-pages-1-text') },
        { drawing: 'patch', title: say('tour-pages-2-title'), text: say('tour-pages-2-text') },
        { drawing: 'resistance', title: say('tour-pages-3-title'), text: say('tour-pages-3-text') },
        { drawing: 'report', title: say('tour-pages-4-title'), text: say('tour-pages-4-text') },
      ];
    },
  },
  settings: {
    get hands() {
      return keys({ left: say('settings-hands-left'), right: say('settings-hands-right') });
    },
    get papers() {
      return keys({ bay: say('settings-papers-bay'), desk: say('settings-papers-desk') });
    },
    get gloves() {
      return keys({ off: say('settings-gloves-off'), on: say('settings-gloves-on') });
    },
    get sounds() {
      return keys({ on: say('settings-sounds-on'), off: say('settings-sounds-off') });
    },
    get guards() {
      return [
        { id: '0.5', label: say('settings-guards-1-label') },
        { id: '0.8', label: '80 %' },
        { id: '0.95', label: '95 %' },
        { id: '0.99', label: '99 %' },
      ];
    },
    get markets() {
      return keys({
        north_america: say('settings-markets-north-america'),
        elsewhere: say('settings-markets-elsewhere'),
        unknown: say('settings-markets-unknown'),
      });
    },
  },
  units: {
    get of() {
      return {
        distance: say('units-of-distance'),
        temperature: say('units-of-temperature'),
        torque: say('units-of-torque'),
        volume: say('units-of-volume'),
        length: say('units-of-length'),
      };
    },
  },
  step: {
    get reasons() {
      return [
        say('step-reasons-1'),
        say('step-reasons-2'),
        say('step-reasons-3'),
        say('step-reasons-4'),
        say('step-reasons-5'),
        say('step-reasons-6'),
      ];
    },
  },
  note: {
    get whos() {
      return keys({ report: say('note-whos-report'), private: say('note-whos-private') });
    },
  },
  want: {
    label: (want: WantView): string => {
      switch (want.kind) {
        case 'car':
          return say('want-label-car');
        case 'complaint':
          return say('want-label-complaint');
        case 'codes':
          return want.moment === 'before'
            ? say('want-label-codes-before')
            : say('want-label-codes-after');
        case 'go_ahead':
          return say('want-label-go-ahead');
        case 'parts_off':
          return say('want-label-parts-off');
        case 'parts_back':
          return say('want-label-parts-back');
        case 'census':
          return say('want-label-census');
        case 'components':
          return say('want-label-components');
        case 'readings':
          return rowIn(readingTable[language.now], want.quantity).label;
        case 'explains':
          return say('want-label-explains');
        case 'decision':
          return say('want-label-decision');
        case 'replace':
          return say('want-label-replace', { what: want.what });
        case 'tighten':
          return say('want-label-tighten', { what: want.what });
        case 'report':
          return say('want-label-report');
        case 'answer':
          return say('want-label-answer');
        default:
          return want.label;
      }
    },
  },
  camera: {
    get advice() {
      return {
        good: say('camera-advice-good'),
        dark: say('camera-advice-dark'),
        glare: say('camera-advice-glare'),
        no_card: say('camera-advice-no-card'),
        tilted: say('camera-advice-tilted'),
        far: say('camera-advice-far'),
        blurred: say('camera-advice-blurred'),
      } as Record<string, string>;
    },
    get lift() {
      return {
        top: say('camera-lift-top'),
        right: say('camera-lift-right'),
        bottom: say('camera-lift-bottom'),
        left: say('camera-lift-left'),
      };
    },
    get doing() {
      return [say('camera-doing-1'), say('camera-doing-2')];
    },
    figures: (tilt: number, pxPerMm: number) =>
      say('camera-figures', { tilt: Math.round(tilt), pxPerMm: Math.round(pxPerMm) }),
    get how() {
      return {
        patch: say('camera-how-patch'),
        patch_after_magnet: say('camera-how-patch-after-magnet'),
        pan: say('camera-how-pan'),
        magnet: say('camera-how-magnet'),
        place: say('camera-how-place'),
      } as Partial<Record<PhotoSubject, string>>;
    },
  },
  gearbox: {
    get units() {
      return {
        original: say('gearbox-units-original'),
        rebuilt: say('gearbox-units-rebuilt'),
        new: say('gearbox-units-new'),
        used: say('gearbox-units-used'),
        unknown: say('gearbox-units-unknown'),
      };
    },
    get firsts() {
      return {
        yes: say('gearbox-firsts-yes'),
        no: say('gearbox-firsts-no'),
        unknown: say('gearbox-firsts-unknown'),
      };
    },
    get wipeds() {
      return {
        yes: say('gearbox-wipeds-yes'),
        no: say('gearbox-wipeds-no'),
        never: say('gearbox-wipeds-never'),
        unknown: say('gearbox-wipeds-unknown'),
      };
    },
  },
  meter: {
    take: (percent: string, counts: string) =>
      say('meter-take', { percent: percent || '…', counts: counts || '…' }),
  },
  codes: {
    get states() {
      return { stored: say('codes-states-stored'), pending: say('codes-states-pending') };
    },
    get stateKeys() {
      return keys({
        pending: say('codes-state-keys-pending'),
        stored: say('codes-state-keys-stored'),
      });
    },
    get stateAllKeys() {
      return keys({
        pending: say('codes-state-all-keys-pending'),
        stored: say('codes-state-all-keys-stored'),
      });
    },
    get bits() {
      return [
        say('codes-bits-1'),
        say('codes-bits-2'),
        say('codes-bits-3'),
        say('codes-bits-4'),
        say('codes-bits-5'),
        say('codes-bits-6'),
        say('codes-bits-7'),
        say('codes-bits-8'),
      ];
    },
  },
  goAhead: {
    ways: (who: string) =>
      keys({
        in_person: say('go-ahead-ways-in-person', { who }),
        phone: say('go-ahead-ways-phone', { who }),
        message: say('go-ahead-ways-message', { who }),
      }),
    get hows() {
      return keys({
        in_person: say('go-ahead-hows-in-person'),
        phone: say('go-ahead-hows-phone'),
        message: say('go-ahead-hows-message'),
      });
    },
    currencies: (now: string) =>
      [...new Set([now, ...say('go-ahead-currencies').split(' ')])]
        .slice(0, 4)
        .map((id) => ({ id, label: id })),
  },
  parts: {
    get items() {
      return [
        say('parts-items-1'),
        say('parts-items-2'),
        say('parts-items-3'),
        say('parts-items-4'),
        say('parts-items-5'),
        say('parts-items-6'),
        say('parts-items-7'),
        say('parts-items-8'),
        say('parts-items-9'),
        say('parts-items-10'),
        say('parts-items-11'),
      ];
    },
    get fasteners() {
      return [say('parts-fasteners-1'), say('parts-fasteners-2'), say('parts-fasteners-3')];
    },
    get sizes() {
      return ['M5', 'M6', 'M8', 'M10'];
    },
    get places() {
      return [
        say('parts-places-1'),
        say('parts-places-2'),
        say('parts-places-3'),
        say('parts-places-4'),
        say('parts-places-5'),
        say('parts-places-6'),
      ];
    },
    say: (count: string, item: string, size: string, length: string) =>
      [count, item, size, length && `× ${length}`].filter(Boolean).join(' '),
    standing: (off: number, count: number) =>
      off === 0
        ? say('parts-standing-all-back')
        : off === count
          ? say('parts-standing-all-off')
          : say('parts-standing-some-off', { off, count }),
  },
  ...ofBench,
  pan: {
    share: (share: number) => say('pan-share', { share: Math.round(share * 100) }),
  },
  review: {
    likely: (p: number) => say('review-likely', { p: Math.round(p * 100) }),
    get panels() {
      return [
        { id: 'class', label: say('review-panels-1-label') },
        { id: 'size', label: say('review-panels-2-label') },
        { id: 'limits', label: say('review-panels-3-label') },
        { id: 'patch', label: say('review-panels-4-label') },
        { id: 'help', label: say('review-panels-5-label') },
      ];
    },
    count: (n: number, lo: number, hi: number) =>
      say('review-count', { n, lo: Math.round(lo), hi: Math.round(hi) }),
  },
  howTo: {
    get steps() {
      return [
        { id: 'spread', title: say('how-to-steps-1-title'), text: say('how-to-steps-1-text') },
        { id: 'card', title: say('how-to-steps-2-title'), text: say('how-to-steps-2-text') },
        { id: 'hold', title: say('how-to-steps-3-title'), text: say('how-to-steps-3-text') },
      ];
    },
  },
  tray: {
    get heaps() {
      return {
        grave: say('tray-heaps-grave'),
        doubtful: say('tray-heaps-doubtful'),
        sure: say('tray-heaps-sure'),
        not_debris: say('tray-heaps-not-debris'),
      };
    },
  },
  help: {
    get ask() {
      return {
        taps: say('help-ask-taps'),
        subject: say('help-ask-subject'),
        fluid: say('help-ask-fluid'),
      };
    },
    get lengths() {
      return keys({
        '8': say('help-lengths-8'),
        '10': say('help-lengths-10'),
        '13': say('help-lengths-13'),
        '50': say('help-lengths-50'),
      });
    },
    get wheres() {
      return keys({ ground: say('help-wheres-ground'), subject: say('help-wheres-subject') });
    },
    notYet: (mode: 'taps' | 'subject' | 'fluid', taps: number): string =>
      mode === 'subject'
        ? say('help-not-yet-subject')
        : mode === 'fluid'
          ? say('help-not-yet-fluid')
          : say('help-not-yet-taps', { taps }),
  },
  report: {
    get leaveOuts() {
      return keys({
        customer: say('report-leave-outs-customer'),
        car: say('report-leave-outs-car'),
      });
    },
    holdsName: (holds: string, goes: boolean) =>
      goes ? say('report-holds-name-goes', { holds }) : say('report-holds-name-stays', { holds }),
    get wordTextChoices() {
      return keys({
        leave: say('report-word-text-choices-leave'),
        keep: say('report-word-text-choices-keep'),
      });
    },
    fileName: (title: string, form: 'html' | 'pdf') =>
      `${say('report-file')}-${title.trim().replace(/[^\p{L}\p{N}]+/gu, '-') || say('report-file-job')}.${form}`,
  },
  reports: {
    form: (form: 'page' | 'paper' | null): string =>
      form === 'page'
        ? say('reports-form-page')
        : form === 'paper'
          ? say('reports-form-paper')
          : '',
  },
  customer: {
    get dayChoices() {
      return [
        { id: '7', label: say('customer-day-choices-1-label') },
        { id: '30', label: say('customer-day-choices-2-label') },
        { id: '90', label: say('customer-day-choices-3-label') },
      ];
    },
    get codeChoices() {
      return keys({ no: say('customer-code-choices-no'), yes: say('customer-code-choices-yes') });
    },
    by: (name: string, when: string) => (name ? say('customer-by', { name, when }) : when),
    says: (answers: number, links: number) =>
      answers > 0
        ? say('customer-says-answers', { answers })
        : links > 0
          ? say('customer-says-no-answer')
          : say('customer-says-not-asked'),
  },
  sync: {
    waiting: (lines: number, photos: number) =>
      lines + photos === 0 ? say('sync-waiting-none') : say('sync-waiting', { lines, photos }),
  },
  record: {
    get calibrates() {
      return keys({ off: say('record-calibrates-off'), on: say('record-calibrates-on') });
    },
  },
  procedures: {
    says: (version: number, steps: number, builtIn: boolean) =>
      say('procedures-says', { version, steps, ships: builtIn ? 'yes' : 'no' }),
  },
};
