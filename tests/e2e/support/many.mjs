// A full book: three thousand jobs of an invented shop.
import { importJobs } from './exported.mjs';
import { SETTINGS, car, tick } from './facts.mjs';

export const JOBS = 3000;
export const plate = (n) => `MANY ${String(n).padStart(4, '0')}`;

/** Every job opened, its car noted and ticked; by a file, as so many by the door take minutes. */
export function threeThousand(data) {
  const opened = { fact: 'opened', procedure: 'pan-service-electrical', procedure_version: 2 };
  const jobs = Array.from({ length: JOBS }, (_, index) => [opened, car(plate(index + 1)), tick('car')]);
  importJobs(data, SETTINGS, jobs);
}
