/** Whatever a carrier throws, as a problem in the user's words. */
import type { Problem } from './types/Problem';
import type { ProblemKind } from './types/ProblemKind';
import { say } from '../words';
import { keepsTyped } from './typed';

export function problem(kind: ProblemKind, what: string, do_next: string): Problem {
  return { kind, what, do_next };
}

/** What to do when an answer did not come, with what became of what was typed. */
export function meanwhile(what_to_do: string): string {
  return `${what_to_do} ${keepsTyped() ? say('door-typed-kept') : say('door-typed-here')}`;
}

export function isProblem(thing: unknown): thing is Problem {
  if (typeof thing !== 'object' || thing === null) return false;
  const maybe = thing as Record<string, unknown>;
  return typeof maybe.kind === 'string' && typeof maybe.what === 'string';
}

export function asProblem(thing: unknown): Problem {
  if (isProblem(thing)) return { ...thing, do_next: thing.do_next ?? '' };
  const said = thing instanceof Error ? thing.message : String(thing);
  return problem('bad_request', say('door-broke', { said }), meanwhile(say('door-broke-do')));
}
