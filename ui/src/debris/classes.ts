/** How each class is told apart on a photo without colour: its letter and its line. */
import type { DebrisClass } from '../door/types/DebrisClass';

export interface ClassMark {
  class: DebrisClass;
  letter: string;
  /** SVG dash pattern in screen pixels; empty for an unbroken line. */
  dash: string;
  /** Width of the light line, screen pixels. */
  width: number;
  /** A dark line runs down the middle. */
  double?: boolean;
}

export const marks: readonly ClassMark[] = [
  { class: 'steel_flake', letter: 'F', dash: '', width: 3.2 },
  { class: 'steel_sliver', letter: 'S', dash: '9 4', width: 3.2 },
  { class: 'yellow_metal', letter: 'Y', dash: '', width: 5, double: true },
  { class: 'light_metal', letter: 'A', dash: '3 3', width: 3.2 },
  { class: 'lining', letter: 'L', dash: '10 3 3 3', width: 3.2 },
  { class: 'plastic', letter: 'P', dash: '18 5', width: 3.2 },
  { class: 'elastomer', letter: 'E', dash: '10 3 3 3 3 3', width: 3.2 },
  { class: 'grit', letter: 'G', dash: '5 7', width: 3.2 },
  { class: 'lint', letter: 'T', dash: '', width: 1.6 },
];

const byClass = new Map(marks.map((mark) => [mark.class, mark]));

export function markOf(debris: DebrisClass): ClassMark {
  return byClass.get(debris) ?? { class: debris, letter: '?', dash: '', width: 3.2 };
}
