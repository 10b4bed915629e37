/** Beside the camera: the core reads the meter's display in each frame. */
import { answerBy, put, type Core, type Sheet } from './wasm';

interface Meter extends Core {
  frame(width: number, height: number): number;
  look(ms: number): number;
}

/** One frame to read. */
export interface Ask {
  frame: Sheet;
  /** When it was seen. */
  at: number;
}

answerBy<Meter, Ask>('meter.wasm', (meter, { frame, at }) => {
  put(meter, meter.frame(frame.width, frame.height), frame);
  return meter.look(at);
});
