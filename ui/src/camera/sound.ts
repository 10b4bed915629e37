/** What the camera sees, for the ear: both hands and eyes are at the pan. Can be turned off. */
import type { Seen } from './guide';

/** Between two tones, ms. */
const PAUSE_MS = 350;
const TONE_S = 0.07;
const LOUD = 0.15;
/** Level, and as crooked as it gets, Hz: the tone rises as the phone comes level. */
const LEVEL_HZ = 880;
const CROOKED_HZ = 220;
const CROOKED_DEG = 45;

/** The tone for what is seen; none where only the eye helps. */
export function toneOf(seen: Seen): number | null {
  if (seen.advice === 'good') return LEVEL_HZ;
  if (seen.advice !== 'tilted') return null;
  const level = 1 - Math.min(CROOKED_DEG, seen.tilt) / CROOKED_DEG;
  return CROOKED_HZ + (LEVEL_HZ - CROOKED_HZ) * level;
}

export class Sound {
  private context: AudioContext | null = null;
  private last = 0;

  say(seen: Seen): void {
    const hz = toneOf(seen);
    const now = performance.now();
    if (hz === null || now - this.last < PAUSE_MS || typeof AudioContext === 'undefined') return;
    this.last = now;
    this.context ??= new AudioContext();
    const { context } = this;
    // Before the first touch of a page it may make no sound.
    if (context.state === 'suspended') void context.resume().catch(() => undefined);
    const tone = context.createOscillator();
    const loud = context.createGain();
    const end = context.currentTime + TONE_S;
    tone.frequency.value = hz;
    loud.gain.setValueAtTime(LOUD, context.currentTime);
    loud.gain.exponentialRampToValueAtTime(0.001, end);
    tone.connect(loud).connect(context.destination);
    tone.start();
    tone.stop(end);
  }

  end(): void {
    void this.context?.close().catch(() => undefined);
    this.context = null;
  }
}
