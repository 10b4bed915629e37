/** What a drawing is made of: strokes and areas in a few styles, placed. Units are those of a sheet of 240 x 150. */

/**
 * `line` ink, `quiet` what is around it, `dash` what is not there or only meant, `thick` the way that
 * something goes, `body` an area in ink, `back` an area around it, `solid` what the step is about,
 * `fluid` what flows, `on` a line on what is solid.
 */
export type Style =
  'line' | 'quiet' | 'dash' | 'thick' | 'body' | 'back' | 'solid' | 'fluid' | 'on';

export type Mark = readonly [style: Style, path: string];

/** Marks that belong together, moved to their place. */
export interface Placed {
  move: string;
  marks: readonly Mark[];
}

export type Drawing = readonly Placed[];

export interface Turn {
  scale?: number;
  /** Degrees, clockwise. */
  turn?: number;
  mirror?: boolean;
}

export function put(
  marks: readonly Mark[],
  x = 0,
  y = 0,
  { scale = 1, turn = 0, mirror = false }: Turn = {},
): Placed {
  const turned = turn === 0 ? '' : ` rotate(${turn})`;
  const scaled = scale === 1 && !mirror ? '' : ` scale(${mirror ? -scale : scale} ${scale})`;
  return { move: `translate(${x} ${y})${turned}${scaled}`, marks };
}

export function circle(x: number, y: number, r: number): string {
  return `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`;
}

export function box(x: number, y: number, width: number, height: number): string {
  return `M${x} ${y}h${width}v${height}h${-width}z`;
}

/** The drawing as a file of its own, for its size and to be looked at outside the app. */
export function svgOf(drawing: Drawing): string {
  const marks = drawing
    .map(
      ({ move, marks }) =>
        `<g transform="${move}">${marks.map(([style, d]) => `<path class="${style}" d="${d}"/>`).join('')}</g>`,
    )
    .join('');
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 240 150">${marks}</svg>`;
}
