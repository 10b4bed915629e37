/** Times as a notebook gives them: by the clock that stood there when the line was written. */

import { locale } from '../words/language.svelte';

const CLOCK = { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' } as const;
const DAY = { day: 'numeric', month: 'short' } as const;
const DAY_AND_YEAR = { ...DAY, year: 'numeric' } as const;

/** The hands of that clock, told in UTC so that the viewer's own zone does not move them. */
interface Written {
  hands: Date;
  /** " (UTC+1)" where the viewer's clock was another then. */
  zone: string;
}

function written(rfc3339: string): Written | undefined {
  const when = new Date(rfc3339);
  if (Number.isNaN(when.getTime())) return undefined;
  const offset = /([+-])(\d\d):(\d\d)$/.exec(rfc3339);
  const [sign, hours, minutes] = offset ? offset.slice(1) : ['+', '0', '0'];
  const east = (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes));
  return {
    hands: new Date(when.getTime() + east * 60_000),
    zone: east === -when.getTimezoneOffset() ? '' : ` (${zoneOf(east)})`,
  };
}

/** "UTC+1", "UTC-3:30", "UTC": as the report has it. */
function zoneOf(east: number): string {
  if (east === 0) return 'UTC';
  const [hours, minutes] = [Math.floor(Math.abs(east) / 60), Math.abs(east) % 60];
  const half = minutes === 0 ? '' : `:${String(minutes).padStart(2, '0')}`;
  return `UTC${east < 0 ? '-' : '+'}${hours}${half}`;
}

const say = (hands: Date, how: Intl.DateTimeFormatOptions): string =>
  new Intl.DateTimeFormat(locale(), { ...how, timeZone: 'UTC' }).format(hands);

/** "3 May 2026" of a day of the calendar, YYYY-MM-DD; empty for none. */
export function dayOf(day: string | null | undefined): string {
  const at = written(`${day}T00:00:00Z`);
  return at ? say(at.hands, DAY_AND_YEAR) : '';
}

/** "09:41", and "09:41 (UTC+1)" where the viewer's clock is another. */
export function timeOf(rfc3339: string): string {
  const at = written(rfc3339);
  return at ? say(at.hands, CLOCK) + at.zone : '';
}

/** "09:41" today, "3 May" (or "3. Mai") this year, else with the year. */
export function shortWhen(rfc3339: string, now = new Date()): string {
  const at = written(rfc3339);
  if (!at) return '';
  const today = new Date(now.getTime() - now.getTimezoneOffset() * 60_000);
  const day = (hands: Date): string => hands.toISOString().slice(0, 10);
  if (day(at.hands) === day(today)) return timeOf(rfc3339);
  return say(at.hands, at.hands.getUTCFullYear() === now.getFullYear() ? DAY : DAY_AND_YEAR);
}
