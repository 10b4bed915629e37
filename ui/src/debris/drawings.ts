/** Each class as a small drawing of ours: what its pieces look like, in few lines. 48 x 32. */
import type { DebrisClass } from '../door/types/DebrisClass';

interface Drawing {
  /** Filled with ink. */
  full?: string;
  /** Drawn as a line. */
  line?: string;
}

export const drawings: Record<DebrisClass, Drawing> = {
  steel_flake: { full: 'M8 19 19 8l13 2 9 8-7 8-16 1z', line: 'M4 12l-2-3M44 10l3-3' },
  steel_sliver: { full: 'M3 25 43 6l2 2L6 28z' },
  yellow_metal: { line: 'M8 20 17 8l15 1 8 10-8 7-15-1zM15 14l9-3M14 20l18-5M22 23l12-4' },
  light_metal: { line: 'M7 18 18 8l14 2 9 8-8 8H16z' },
  lining: {
    line: 'M6 22c2-9 8-14 14-13s9-2 14 1 9 8 8 12-6 4-12 3-10 3-15 2-10-1-9-5z',
    full: 'M15 16h3v3h-3zM23 13h3v3h-3zM29 18h3v3h-3zM21 20h3v3h-3z',
  },
  plastic: { line: 'M8 23V9h14v6h18v8z' },
  elastomer: { full: 'M5 17c5-9 11-2 17-6s13-4 18 2c3 5-2 10-8 9s-9 4-15 2S3 21 5 17z' },
  grit: { full: 'M9 19l4-5 5 3-2 5zM22 12l5-3 3 5-5 3zM30 23l4-4 4 4-4 3zM20 24l3-2 2 3-3 2z' },
  lint: { line: 'M4 24C14 4 20 32 28 14S40 6 45 12' },
  paper_gasket: { line: 'M8 10l32-3-2 18-12-2-6 3-10-2zM14 13l18-2M15 18l17-1' },
};
