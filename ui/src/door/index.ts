/** The one door. Screens use this and nothing else of the outside. */
import { type Handover, pickCarrier } from './carrier';
import type { Command } from './types/Command';
import type { Reply } from './types/Reply';

type ReplyOf<K extends Reply['reply']> = Extract<Reply, { reply: K }>;

/** Which answer each command gets. */
interface Answers {
  start: 'start';
  jobs: 'jobs';
  open_job: 'job';
  job: 'job';
  write: 'written';
  undo: 'job';
  retract: 'job';
  take_census: 'photo';
  photo: 'photo';
  save_customer: 'job';
  erase_customer: 'done';
  log: 'log';
  preview_report: 'report';
  named_texts: 'named_texts';
  costs: 'costs';
  make_report: 'report';
  share_report: 'shared';
  open_shared: 'page';
  read_shared: 'report';
  answer_shared: 'page';
  make_report_pdf: 'report_pdf';
  keep_draft: 'done';
  stand_at: 'done';
  gauge_card: 'gauge_card';
  record: 'record';
  settings: 'settings';
  save_settings: 'settings';
  procedures: 'procedures';
  add_procedure: 'procedures';
  plan_tightening: 'tightening';
  code_table: 'code_table';
  set_code_table: 'code_table';
  read_numbers: 'numbers';
  read_code: 'code';
  read_vin: 'vin';
  part_sets: 'part_sets';
  save_part_set: 'part_sets';
  forget_part_set: 'part_sets';
  pair: 'sync';
  sync_now: 'sync';
  sync_state: 'sync';
}

/** Answers, or rejects with a `Problem`. */
export async function call<C extends Command>(command: C): Promise<ReplyOf<Answers[C['do']]>> {
  return (await pickCarrier().call(command)) as ReplyOf<Answers[C['do']]>;
}

export function putPhoto(photo: Blob): Promise<string> {
  return pickCarrier().putPhoto(photo);
}

export function photoUrl(photo: string, width?: number): string {
  return pickCarrier().photoUrl(photo, width);
}

/** The hub that served this screen, where one did. */
export function ownHub(): string | null {
  return pickCarrier().hub;
}

/** Files out and in; null in a browser. */
export function handover(): Handover | null {
  return pickCarrier().handover;
}

export type { HandedIn, Stray } from './carrier';
export { asProblem, isProblem, problem } from './problem';
