/** A photo's picture, loaded once for all its close-ups. */
import { photoUrl } from '../door';

/** So many whole photos are kept in memory: each is tens of megabytes. */
const KEPT = 2;
const loaded = new Map<string, Promise<HTMLImageElement>>();

export function pictureOf(photo: string): Promise<HTMLImageElement> {
  const there = loaded.get(photo);
  if (there) return there;
  const image = new Image();
  image.src = photoUrl(photo);
  const decoded = image.decode().then(() => image);
  loaded.set(photo, decoded);
  // What could not be fetched is asked for again the next time.
  decoded.catch(() => loaded.delete(photo));
  for (const old of [...loaded.keys()].slice(0, -KEPT)) loaded.delete(old);
  return decoded;
}
