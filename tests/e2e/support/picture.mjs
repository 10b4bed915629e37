// Small grey pictures: shrunk, kept as PNG, compared with a tolerance.
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';

/** Grey levels that are kept: enough to see by, and the files stay small. */
const LEVELS = 16;

/**
 * What may differ: the edge of a letter drawn a little otherwise by another version of the
 * browser or of poppler. A pixel counts when it is off by more than a seventh of black to white,
 * and two pictures differ when any WINDOW x WINDOW pixels of them hold more than MOST such pixels
 * (a fortieth of the window). A word that is gone leaves more.
 */
export const TOLERANCE = { threshold: 0.15, window: 40, most: 40 };

/** A picture is { width, height, grey }, a byte a pixel, row by row. */
export function fromPng(bytes) {
  const { width, height, data } = PNG.sync.read(bytes);
  const grey = new Uint8Array(width * height);
  for (let at = 0; at < grey.length; at += 1) {
    const [r, g, b] = data.subarray(at * 4, at * 4 + 3);
    grey[at] = Math.round(0.299 * r + 0.587 * g + 0.114 * b);
  }
  return { width, height, grey };
}

export function toPng({ width, height, grey }) {
  const png = new PNG({ width, height, colorType: 0, inputColorType: 0 });
  png.data = Buffer.from(grey);
  return PNG.sync.write(png, { colorType: 0, inputColorType: 0, deflateLevel: 9 });
}

/** Each block of `side` x `side` pixels as one of few greys; what is left over at the edges is dropped. */
export function shrunk({ width, height, grey }, side) {
  const [w, h] = [Math.floor(width / side), Math.floor(height / side)];
  const out = new Uint8Array(w * h);
  for (let y = 0; y < h; y += 1) {
    for (let x = 0; x < w; x += 1) {
      let sum = 0;
      for (let v = 0; v < side; v += 1) {
        for (let u = 0; u < side; u += 1) sum += grey[(y * side + v) * width + x * side + u];
      }
      const level = Math.round((sum / (side * side) / 255) * (LEVELS - 1));
      out[y * w + x] = Math.round((level * 255) / (LEVELS - 1));
    }
  }
  return { width: w, height: h, grey: out };
}

/** As pixelmatch reads it, on white to the size asked for. */
function rgba({ width, grey, height }, [wide, high]) {
  const out = new Uint8ClampedArray(wide * high * 4).fill(255);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) out.fill(grey[y * width + x], (y * wide + x) * 4, (y * wide + x) * 4 + 3);
  }
  return out;
}

/** Whether two pictures differ by more than the tolerance, how much, and a PNG that shows where. */
export function difference(was, is) {
  const size = [Math.max(was.width, is.width), Math.max(was.height, is.height)];
  const where = new PNG({ width: size[0], height: size[1] });
  const off = pixelmatch(rgba(was, size), rgba(is, size), where.data, ...size, {
    threshold: TOLERANCE.threshold,
    windowSize: TOLERANCE.window,
    includeAA: true,
  });
  // A line more or less moves all below it; another size by itself is a pixel of rounding.
  const grown = Math.abs(was.height - is.height) > 2 || Math.abs(was.width - is.width) > 2;
  return { differs: grown || off > TOLERANCE.most, off, where: PNG.sync.write(where) };
}
