/** What each step does, as a drawing: what to undo, where the hand goes, where it is hot. */
import type { Drawing } from '../mark';
import { found } from './found';
import { mended } from './mended';

export const steps: Record<string, Drawing> = { ...found, ...mended };
