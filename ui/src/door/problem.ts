/** Whatever a carrier throws, as a problem in the user's words. */
import type { Problem } from './types/Problem';
import type { ProblemKind } from './types/ProblemKind';
import { words } from '../words';

export function problem(kind: ProblemKind, what: string, do_next: string): Problem {
  return { kind, what, do_next };
}

export function isProblem(thing: unknown): thing is Problem {
  if (typeof thing !== 'object' || thing === null) return false;
  const maybe = thing as Record<string, unknown>;
  return typeof maybe.kind === 'string' && typeof maybe.what === 'string';
}

export function asProblem(thing: unknown): Problem {
  if (isProblem(thing)) return { ...thing, do_next: thing.do_next ?? '' };
  const said = thing instanceof Error ? thing.message : String(thing);
  return problem('bad_request', words.door.broke(said), words.door.brokeDo);
}
