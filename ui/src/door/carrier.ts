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
  /** Files out and in; `null` in a browser. */
  readonly handover: Handover | null;
  /** The address of the hub that served the screens; `null` in the app. */
  readonly hub: string | null;
  /** Where the photo can be seen, at most `width` pixels wide when it is given. */
  photoUrl(photo: string, width?: number): string;
}

/** What the app was opened with. */
export type HandedIn =
  | { what: 'nothing' }
  | { what: 'pair'; address: string; code: string; fingerprint: string }
  | { what: 'export'; name: string };

/** A photo of the phone's own camera that never arrived in a job. */
export interface Stray {
  photo: string;
  /** When it was taken, in milliseconds since 1970. */
  taken: number;
  /** A whole picture, and kept by now. */
  whole: boolean;
}

/** What came in of an export. */
export interface TakenIn {
  lines: number;
  photos: number;
  /** Lines of them that nobody signed. */
  unsigned: number;
}

/** What only the app in its shell can do: files out and in over the system's own ways. */
export interface Handover {
  /** Where the file lies; null where the share sheet has it. */
  out(file: File): Promise<string | null>;
  everythingOut(name: string): Promise<string | null>;
  openedWith(): Promise<HandedIn>;
  /** Takes in the export that waits. */
  takeIn(): Promise<TakenIn>;
  /** Asked when the page begins, never while it waits for a photo. */
  strays(): Promise<Stray[]>;
  dropStray(photo: string): Promise<unknown>;
  /** Keeps the phone's screen awake; null where the webview does it itself. */
  keepAwake(awake: boolean): Promise<unknown> | null;
}

let carrier: Carrier | undefined;

export function pickCarrier(): Carrier {
  carrier ??= tauriInternals() ? tauriCarrier() : httpCarrier();
  return carrier;
}
