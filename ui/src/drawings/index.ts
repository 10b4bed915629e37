import type { Drawing, Mark } from './mark';
import { anyStage, stages } from './stages';
import { steps } from './steps';

/** The drawing of a step by its name; none for a name that is not ours. */
export const drawingOf = (name: string): Drawing | undefined =>
  Object.hasOwn(steps, name) ? steps[name] : undefined;

export const stageMark = (name: string): readonly Mark[] =>
  (Object.hasOwn(stages, name) ? stages[name] : undefined) ?? anyStage;
