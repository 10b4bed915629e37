/** The shell's carrier: Tauri's IPC for commands, its own scheme for photos. */
import type { Carrier, HandedIn, Stray, TakenIn } from './carrier';
import { asProblem } from './problem';
import type { Reply } from './types/Reply';

interface Internals {
  invoke(command: string, payload?: unknown, options?: unknown): Promise<unknown>;
}

export function tauriInternals(): Internals | undefined {
  return (window as { __TAURI_INTERNALS__?: Internals }).__TAURI_INTERNALS__;
}

/** Where a file lies that went out; null where the share sheet has it. */
interface HandedOver {
  place: string | null;
}

/** Android and Windows serve an own scheme as a host of http. */
export function schemeOrigin(userAgent: string): string {
  return /Android|Windows/.test(userAgent) ? 'http://swarf.localhost' : 'swarf://localhost';
}

export const onAndroid = (): boolean => /Android/.test(navigator.userAgent);

async function invoke(command: string, payload: unknown, options?: unknown): Promise<unknown> {
  const internals = tauriInternals();
  try {
    return await internals?.invoke(command, payload, options);
  } catch (cause) {
    throw asProblem(cause);
  }
}

/** Bytes that a string is made of at once: more would not fit on the call's stack. */
const AT_ONCE = 0x8000;

export function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += AT_ONCE) {
    text += String.fromCharCode(...bytes.subarray(at, at + AT_ONCE));
  }
  return btoa(text);
}

/**
 * The one place that hands a photo's bytes to the shell. Android's webview gives
 * no request bodies to the app: there they go as base64 in JSON.
 */
async function handOver(photo: Blob): Promise<unknown> {
  const bytes = new Uint8Array(await photo.arrayBuffer());
  if (onAndroid()) {
    return invoke('put_photo', { base64: toBase64(bytes) });
  }
  return invoke('put_photo', bytes, { headers: { 'content-type': photo.type || 'image/jpeg' } });
}

export function tauriCarrier(): Carrier {
  const origin = schemeOrigin(navigator.userAgent);
  return {
    hub: null,
    handover: {
      async out(file) {
        const base64 = toBase64(new Uint8Array(await file.arrayBuffer()));
        const handed = await invoke('hand_over', { file: { name: file.name, base64 } });
        return (handed as HandedOver).place;
      },
      async everythingOut(name) {
        return ((await invoke('hand_over_everything', { name })) as HandedOver).place;
      },
      async openedWith() {
        return (await invoke('handed_in', {})) as HandedIn;
      },
      async takeIn() {
        return (await invoke('take_in', {})) as TakenIn;
      },
      async strays() {
        return (await invoke('strays', {})) as Stray[];
      },
      dropStray(photo) {
        return invoke('drop_stray', { photo });
      },
      keepAwake(awake) {
        return onAndroid() ? invoke('keep_awake', { awake }) : null;
      },
    },

    async call(command) {
      return (await invoke('call', { command })) as Reply;
    },
    async putPhoto(photo) {
      return ((await handOver(photo)) as { photo: string }).photo;
    },
    photoUrl(photo, width) {
      return `${origin}/photo/${photo}${width ? `?w=${width}` : ''}`;
    },
  };
}
