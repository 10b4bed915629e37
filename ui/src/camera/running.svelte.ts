/** The camera while a screen shows it. */
import { closeCamera, openCamera } from './live';

/**
 * What comes in front of the app, as a call or the system's own camera, wants the camera: it is
 * given up, and taken again after that.
 */
export class Running {
  stream = $state.raw<MediaStream | null>(null);
  /** Leave to use it was refused, or there is none. */
  refused = $state(false);
  /** Its picture has begun. */
  sees = $state(false);
  /** The screen was left. */
  gone = false;
  private opening = false;

  /** `wanted`: whether the screen has a use for it; `size`: what is wanted of its picture, px. */
  constructor(
    private readonly wanted: () => boolean,
    private readonly size?: readonly [number, number],
  ) {}

  async open(): Promise<void> {
    if (this.opening || this.stream) return;
    this.opening = true;
    try {
      const opened = await openCamera(...(this.size ?? []));
      this.refused = false;
      // Meanwhile the screen was left, or another app came in front, as the question for leave does.
      if (this.gone || document.hidden || !this.wanted()) closeCamera(opened);
      else this.stream = opened;
    } catch {
      this.refused = true;
    } finally {
      this.opening = false;
    }
  }

  close(): void {
    closeCamera(this.stream);
    [this.stream, this.sees] = [null, false];
  }

  /** From the screen's beginning until the returned function is called. */
  begin(): () => void {
    const covered = (): void => {
      if (document.hidden) this.close();
      else if (!this.refused && this.wanted()) void this.open();
    };
    void this.open();
    document.addEventListener('visibilitychange', covered);
    return () => {
      this.gone = true;
      document.removeEventListener('visibilitychange', covered);
      this.close();
    };
  }
}
