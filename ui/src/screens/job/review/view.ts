/** How a photo lies in its frame: which point of it is in the middle, how large, and whether turned. */
import { boxOf } from '../../../debris/closeup';
import type { ParticleView } from '../../../door/types/ParticleView';

type Point = readonly [number, number];

export interface View {
  /** In the middle of the frame, px of the picture. */
  at: Point;
  /** Screen px to one px of the picture. */
  zoom: number;
  /** A quarter turn clockwise. */
  turned: boolean;
}

/** Around what is cropped to: its share of the greater side, and the least, as a share of the picture. */
const MARGIN = 0.06;
const LEAST_CROP = 0.12;
/** Turned where the pieces are then seen larger by this. */
const WORTH_TURNING = 1.25;
/** The most that fingers enlarge what fits, and the most px of the screen for one of the picture. */
const MOST = 12;
/** A chosen piece is at least so long, screen px. */
const SEEN_PX = 110;

export function fitted(whole: Point, crop: readonly Point[], [width, height]: Point): View {
  const least = LEAST_CROP * Math.max(...whole);
  const box =
    crop.length > 0 ? boxOf(crop) : { left: 0, top: 0, width: whole[0], height: whole[1] };
  const margin = crop.length > 0 ? MARGIN * Math.max(...whole) : 0;
  const left = Math.max(0, box.left - margin);
  const top = Math.max(0, box.top - margin);
  const right = Math.min(whole[0], box.left + box.width + margin);
  const bottom = Math.min(whole[1], box.top + box.height + margin);
  const wide = Math.max(least, right - left);
  const tall = Math.max(least, bottom - top);
  const upright = Math.min(width / wide, height / tall);
  const across = Math.min(width / tall, height / wide);
  const turned = across > upright * WORTH_TURNING;
  return {
    at: [(left + right) / 2, (top + bottom) / 2],
    zoom: Math.max(1e-6, turned ? across : upright),
    turned,
  };
}

/** Within what makes sense: not smaller than it fits, not beyond the picture's edge. */
export function kept(view: View, whole: Point, fit: View): View {
  const zoom = Math.min(Math.max(view.zoom, fit.zoom), fit.zoom * MOST);
  if (zoom <= fit.zoom * 1.001) return fit;
  const at = [0, 1].map((axis) => Math.min(Math.max(view.at[axis]!, 0), whole[axis]!));
  return { ...view, zoom, at: [at[0]!, at[1]!] };
}

/** The view that shows a piece: as it is, when it is seen well enough. */
export function around(piece: ParticleView, view: View, frame: Point, fit: View): View {
  const box = boxOf(piece.outline_px.length > 0 ? piece.outline_px : [piece.at_px]);
  const long = Math.max(1, box.width, box.height);
  const zoom = Math.max(view.zoom, SEEN_PX / long);
  const [dx, dy] = [piece.at_px[0] - view.at[0], piece.at_px[1] - view.at[1]];
  const [right, down] = view.turned ? [-dy, dx] : [dx, dy];
  const margin = 40 + (long * zoom) / 2;
  const seen =
    Math.abs(right) * view.zoom < frame[0] / 2 - margin &&
    Math.abs(down) * view.zoom < frame[1] / 2 - margin;
  if (zoom === view.zoom && seen) return view;
  return { ...view, at: piece.at_px, zoom: Math.max(zoom, fit.zoom * 1.5) };
}

/** The same as a box with its transform. */
export function placed(
  { at, zoom, turned }: View,
  whole: Point,
  frame: Point,
): { width: number; height: number; transform: string } {
  const [x, y] = turned
    ? [frame[0] / 2 + at[1] * zoom, frame[1] / 2 - at[0] * zoom]
    : [frame[0] / 2 - at[0] * zoom, frame[1] / 2 - at[1] * zoom];
  const turn = turned ? ' rotate(90deg)' : '';
  return {
    width: whole[0] * zoom,
    height: whole[1] * zoom,
    transform: `translate(${x.toFixed(2)}px, ${y.toFixed(2)}px)${turn}`,
  };
}

/** What lies under a point of the frame, measured from its middle, px of the picture. */
export function under(view: View, [right, down]: Point): [number, number] {
  const [dx, dy] = view.turned ? [down, -right] : [right, down];
  return [view.at[0] + dx / view.zoom, view.at[1] + dy / view.zoom];
}

/** The view in which this point of the picture lies there in the frame. */
export function holding(view: View, point: Point, [right, down]: Point): View {
  const [dx, dy] = view.turned ? [down, -right] : [right, down];
  return { ...view, at: [point[0] - dx / view.zoom, point[1] - dy / view.zoom] };
}
