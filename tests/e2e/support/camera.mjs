// What the fake camera sees: a photo as a film of one picture.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export function filmOf(t, photo) {
  const folder = mkdtempSync(join(tmpdir(), 'swarfbook-camera-'));
  t.after(() => rmSync(folder, { recursive: true, force: true }));
  const film = join(folder, 'film.mjpeg');
  const args = ['-loglevel', 'error', '-loop', '1', '-i', photo, '-frames:v', '4', '-r', '1'];
  execFileSync('ffmpeg', [...args, '-c:v', 'copy', '-f', 'mjpeg', film]);
  return film;
}

/** A film of these JPEGs of one size, a frame each (30 a second), over and over. */
export function filmOfFrames(t, photos) {
  const folder = mkdtempSync(join(tmpdir(), 'swarfbook-camera-'));
  t.after(() => rmSync(folder, { recursive: true, force: true }));
  const film = join(folder, 'film.mjpeg');
  const frames = photos.map((photo) => readFileSync(photo));
  writeFileSync(film, Buffer.concat(frames.length > 1 ? frames : Array(4).fill(frames[0])));
  return film;
}
