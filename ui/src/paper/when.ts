/** Times as a notebook gives them. */

import { locale } from '../words/language.svelte';

const CLOCK = { hour: '2-digit', minute: '2-digit', hour12: false } as const;
const DAY = { day: 'numeric', month: 'short' } as const;
const DAY_AND_YEAR = { ...DAY, year: 'numeric' } as const;

const say = (when: Date, how: Intl.DateTimeFormatOptions): string =>
  new Intl.DateTimeFormat(locale(), how).format(when);

/** "09:41" */
export function timeOf(rfc3339: string): string {
  const when = new Date(rfc3339);
  return Number.isNaN(when.getTime()) ? '' : say(when, CLOCK);
}

/** "09:41" today, "3 May" (or "3. Mai") this year, else with the year. */
export function shortWhen(rfc3339: string, now = new Date()): string {
  const when = new Date(rfc3339);
  if (Number.isNaN(when.getTime())) return '';
  if (when.toDateString() === now.toDateString()) return say(when, CLOCK);
  return when.getFullYear() === now.getFullYear() ? say(when, DAY) : say(when, DAY_AND_YEAR);
}
