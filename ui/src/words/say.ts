/** Says the messages of `core/words` in the language of the screens. */
import { FluentBundle, FluentNumber, FluentResource } from '@fluent/bundle';
import english from '../../../core/words/en/screens.ftl?raw';
import type { Language } from '../door/types/Language';
import { language } from './language.svelte';
import type { Messages, Value } from './messages';

type Values<Id extends keyof Messages> = Messages[Id] extends null ? [] : [Messages[Id]];

/** Fetched when one is spoken. */
const files = import.meta.glob<string>(
  ['../../../core/words/*/screens.ftl', '!../../../core/words/en/screens.ftl'],
  { query: '?raw', import: 'default' },
);

function read(tag: Language, text: string): FluentBundle {
  const bundle = new FluentBundle(tag, { useIsolating: false });
  bundle.addResource(new FluentResource(text));
  return bundle;
}

const inEnglish = read('en', english);
const bundles = new Map<Language, FluentBundle>([['en', inEnglish]]);

/** What is to be spoken once it has come: a later wish goes before an earlier one. */
let wanted: Language = 'en';

/** Speaks a language from now on; one that can't be fetched leaves the one that is spoken. */
export async function speak(tag: Language): Promise<void> {
  wanted = tag;
  if (!bundles.has(tag)) {
    const text = await files[`../../../core/words/${tag}/screens.ftl`]?.().catch(() => undefined);
    if (text === undefined) return;
    bundles.set(tag, read(tag, text));
  }
  if (wanted === tag) language.now = tag;
}

/** As the language writes numbers, without marks between thousands: a person types none either. */
const written = (value: Value) =>
  typeof value === 'number'
    ? new FluentNumber(value, { useGrouping: false, maximumFractionDigits: 4 })
    : value;

/** A message by its id, with its values by their names. */
export function say<Id extends keyof Messages>(id: Id, ...[values]: Values<Id>): string {
  const bundle = bundles.get(language.now) ?? inEnglish;
  const message = bundle.getMessage(id);
  if (!message?.value) return id;
  const given: [string, Value][] = Object.entries(values ?? {});
  const shown = Object.fromEntries(given.map(([name, value]) => [name, written(value)]));
  // A value that can't be shown is named in its place: no screen goes without its other words.
  return bundle.formatPattern(message.value, shown, []);
}
