/** Times as a notebook gives them. */

const clock = new Intl.DateTimeFormat(undefined, {
  hour: '2-digit',
  minute: '2-digit',
  hour12: false,
});
const day = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short' });
const dayAndYear = new Intl.DateTimeFormat(undefined, {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
});

/** "09:41" */
export function timeOf(rfc3339: string): string {
  const when = new Date(rfc3339);
  return Number.isNaN(when.getTime()) ? '' : clock.format(when);
}

/** "09:41" today, "3 May" this year, else with the year. */
export function shortWhen(rfc3339: string, now = new Date()): string {
  const when = new Date(rfc3339);
  if (Number.isNaN(when.getTime())) return '';
  if (when.toDateString() === now.toDateString()) return clock.format(when);
  return when.getFullYear() === now.getFullYear() ? day.format(when) : dayAndYear.format(when);
}
