import type { Choice } from '../door/types/Choice';

/** The answers that hold after a press: what rules out all others stands alone. */
export function pressed(had: readonly string[], id: string, choices: readonly Choice[]): string[] {
  if (had.includes(id)) return had.filter((one) => one !== id);
  const alone = (of: string) => choices.some((choice) => choice.id === of && choice.alone);
  if (alone(id)) return [id];
  const chosen = new Set([...had.filter((one) => !alone(one)), id]);
  return choices.map((choice) => choice.id).filter((one) => chosen.has(one));
}
