/** A verdict for ear and hand: heard and felt with the eyes on the probes. */
import type { ReadingCall } from '../door/types/ReadingCall';

/** Tones one after another, Hz, each so long; and what the phone does in the hand, ms on and off. */
interface Signal {
  tones: readonly number[];
  buzz: number[];
}

const LONG = [90, 70, 90, 70, 200];
const signals: Record<ReadingCall, Signal> = {
  good: { tones: [880], buzz: [40] },
  out: { tones: [330, 262], buzz: LONG },
  short: { tones: [330, 262], buzz: LONG },
  open: { tones: [330, 262], buzz: LONG },
  too_close: { tones: [587, 587], buzz: [40, 60, 40] },
  again: { tones: [587, 587], buzz: [40, 60, 40] },
  not_judged: { tones: [587], buzz: [20] },
};

const TONE_S = 0.14;
const LOUD = 0.35;
let audio: AudioContext | undefined;

export const signal = (call: ReadingCall): void => play(signals[call]);

/** A number stands still on the meter's display, and waits to be written. */
export const signalStill = (): void => play({ tones: [698], buzz: [30] });

function play({ tones, buzz }: Signal): void {
  // A phone without a motor, or with it switched off, does nothing.
  navigator.vibrate?.(buzz);
  if (typeof AudioContext === 'undefined') return;
  audio ??= new AudioContext();
  let at = audio.currentTime;
  for (const hertz of tones) {
    const tone = audio.createOscillator();
    const gain = audio.createGain();
    tone.frequency.value = hertz;
    gain.gain.setValueAtTime(LOUD, at);
    gain.gain.exponentialRampToValueAtTime(0.001, at + TONE_S);
    tone.connect(gain).connect(audio.destination);
    tone.start(at);
    tone.stop(at + TONE_S);
    at += TONE_S;
  }
}
