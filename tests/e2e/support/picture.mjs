// Small grey pictures: made from large ones by averaging blocks, kept as PNG, compared
// with a tolerance.
import { deflateSync, inflateSync } from 'node:zlib';

/** Grey levels that are kept: enough to see by, and the files stay small. */
const LEVELS = 16;
const MAGIC = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);

const CRC = Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  let crc = 0xffffffff;
  for (const byte of body) crc = CRC[(crc ^ byte) & 255] ^ (crc >>> 8);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE((crc ^ 0xffffffff) >>> 0, body.length + 4);
  return out;
}

/** A picture is { width, height, grey }, a byte a pixel, row by row. */
export function toPng({ width, height, grey }) {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = 8; // bits a pixel; grey, no filters of other kinds, not interlaced
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) rows[y * (width + 1) + 1 + x] = grey[y * width + x];
  }
  return Buffer.concat([
    MAGIC,
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** Reads back what `toPng` wrote, and no other PNG. */
export function fromPng(bytes) {
  const [width, height] = [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
  const length = bytes.readUInt32BE(33);
  const rows = inflateSync(bytes.subarray(41, 41 + length));
  const grey = new Uint8Array(width * height);
  for (let y = 0; y < height; y += 1) {
    grey.set(rows.subarray(y * (width + 1) + 1, (y + 1) * (width + 1)), y * width);
  }
  return { width, height, grey };
}

/** Each block of `side` x `side` pixels as one of few greys. */
export function reduced({ width, height, grey }, side) {
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

/** `pdftoppm -gray` writes this form (P5). */
export function fromPgm(bytes) {
  const head = bytes.subarray(0, 40).toString('latin1').match(/^P5\s+(\d+)\s+(\d+)\s+255\s/);
  if (!head) throw new Error('not a grey picture (P5)');
  return { width: Number(head[1]), height: Number(head[2]), grey: bytes.subarray(head[0].length) };
}

/** Pictures one under the other, on white. */
export function stacked(pictures) {
  const width = Math.max(...pictures.map((picture) => picture.width));
  const height = pictures.reduce((sum, picture) => sum + picture.height, 0);
  const grey = new Uint8Array(width * height).fill(255);
  let at = 0;
  for (const picture of pictures) {
    for (let y = 0; y < picture.height; y += 1) {
      const row = picture.grey.subarray(y * picture.width, (y + 1) * picture.width);
      grey.set(row, (at + y) * width);
    }
    at += picture.height;
  }
  return { width, height, grey };
}

/** The share of pixels that differ by more than `levels` of 255, and where: white is the same. */
export function difference(was, is, levels) {
  const height = Math.min(was.height, is.height);
  const { width } = was;
  const grey = new Uint8Array(width * height).fill(255);
  let count = 0;
  for (let at = 0; at < grey.length; at += 1) {
    const off = Math.abs(was.grey[at] - is.grey[at]);
    if (off > levels) count += 1;
    grey[at] = off > levels ? 0 : 255 - Math.floor(off / 2);
  }
  return { share: count / grey.length, picture: { width, height, grey } };
}
