/** The one door. Screens use this and nothing else of the outside. */
import { type Handover, pickCarrier } from './carrier';
import type { Answers } from './types/Answers';
import type { Command } from './types/Command';
import type { Reply } from './types/Reply';

type ReplyOf<K extends Reply['reply']> = Extract<Reply, { reply: K }>;

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
