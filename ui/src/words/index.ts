/** The texts in the language of the device. A change of language changes what is drawn. */
import { language } from './language.svelte';
import { de } from './de';
import { en, type Words } from './en';

const catalogues = { en, de } satisfies Record<string, Words>;

export const words: Words = new Proxy(en, {
  get: (_, key) => Reflect.get(catalogues[language.now], key) as unknown,
});
