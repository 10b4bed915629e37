/** One path in one weight, as a shape of its own. */
import type { Mark } from '../mark';

export const line = (d: string): Mark[] => [['line', d]];
export const thick = (d: string): Mark[] => [['thick', d]];
export const dash = (d: string): Mark[] => [['dash', d]];
export const solid = (d: string): Mark[] => [['solid', d]];
export const quiet = (d: string): Mark[] => [['quiet', d]];
