/** What carries commands and photos; the screens cannot tell which. */
import type { Command } from './types/Command';
import type { Reply } from './types/Reply';
import { httpCarrier } from './http';
import { tauriCarrier, tauriInternals } from './tauri';

export interface Carrier {
  /** Answers, or rejects with a `Problem`. */
  call(command: Command): Promise<Reply>;
  /** Keeps a photo's bytes and answers with their SHA-256, or rejects with a `Problem`. */
  putPhoto(photo: Blob): Promise<string>;
  /** The address of the hub that served the screens; `null` in the app. */
  readonly hub: string | null;
  /** Where the photo can be seen, at most `width` pixels wide when it is given. */
  photoUrl(photo: string, width?: number): string;
}

let carrier: Carrier | undefined;

export function pickCarrier(): Carrier {
  carrier ??= tauriInternals() ? tauriCarrier() : httpCarrier();
  return carrier;
}
