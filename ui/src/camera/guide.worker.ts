/** Beside the camera: the core's own guidance on each preview frame. */
import { answerBy, put, type Core, type Sheet } from './wasm';

interface Guide extends Core {
  frame(width: number, height: number): number;
  detail(width: number, height: number): number;
  look(photoSide: number): number;
}

/** One frame to look at. */
export interface Ask {
  frame: Sheet;
  /** A cut of it in the photo's own pixels. */
  detail: Sheet;
  /** Longer side of the photo that the shutter would give, px. */
  photoSide: number;
}

answerBy<Guide, Ask>('guide.wasm', (guide, { frame, detail, photoSide }) => {
  put(guide, guide.frame(frame.width, frame.height), frame);
  put(guide, guide.detail(detail.width, detail.height), detail);
  return guide.look(photoSide);
});
