/** The language that the screens speak. */
import type { Language } from '../door/types/Language';

/** Each under its own name, so that who can't read the one finds the other. */
export const LANGUAGES: { id: Language; label: string }[] = [
  { id: 'en', label: 'English' },
  { id: 'de', label: 'Deutsch' },
  { id: 'es', label: 'Español' },
];

const known = (tag: string): Language | undefined =>
  LANGUAGES.find(({ id }) => tag.toLowerCase().split('-')[0] === id)?.id;

/** The first language of the browser that the book has, else English. */
export function ofBrowser(tags: readonly string[] = navigator.languages): Language {
  return tags.map(known).find((id) => id !== undefined) ?? 'en';
}

class Spoken {
  now = $state<Language>('en');
}

export const language = new Spoken();

/** For dates and numbers: the browser's own region of the language, where it has one. */
export function locale(tags: readonly string[] = navigator.languages): string {
  return (
    tags.find((tag) => known(tag) === language.now) ??
    { en: 'en-GB', de: 'de', es: 'es' }[language.now]
  );
}

/** A number to so many figures, as the language writes it. */
export function sayNumber(number: number, figures: number): string {
  return new Intl.NumberFormat(locale(), {
    maximumSignificantDigits: figures,
    useGrouping: false,
  }).format(number);
}
