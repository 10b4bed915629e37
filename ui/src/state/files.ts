/** Handing a file over: the shell's own way, the browser's share sheet, else a download. */
import { asProblem, call, handover } from '../door';
import { checkingPage } from '../door/own';
import { onAndroid } from '../door/tauri';
import { say } from '../words';
import { language } from '../words/language.svelte';
import { attempt, session } from './session.svelte';

/** The share sheet takes it: on the phone by the shell, elsewhere where the browser has one. */
export function canSend(file: File): boolean {
  if (handover()) return onAndroid();
  return navigator.canShare?.({ files: [file] }) ?? false;
}

export async function send(file: File): Promise<void> {
  const shell = handover();
  if (shell) return laid(() => shell.out(file));
  if (!canSend(file)) return download(file);
  try {
    await navigator.share({ files: [file], title: file.name });
  } catch (cause) {
    // Closing the share sheet is no fault.
    if (cause instanceof DOMException && cause.name === 'AbortError') return;
    session.trouble = { problem: asProblem(cause) };
  }
}

/** A file to keep here; on the phone the share sheet is the way to keep one too. */
export function save(file: File): Promise<void> | void {
  return handover() ? send(file) : download(file);
}

/** Everything of this device in one file; only the app in its shell can. */
export async function sendEverything(): Promise<void> {
  const shell = handover();
  const day = new Date().toISOString().slice(0, 10);
  if (shell) await laid(() => shell.everythingOut(`swarfbook-${day}.zip`));
}

/** The gauge card, to be printed, in the language that the screens speak. */
export async function sendCard(): Promise<void> {
  const reply = await attempt(say('busy-file'), () =>
    call({ do: 'gauge_card', language: language.now }),
  );
  if (reply) await send(pdfOf(reply.base64, say('files-card')));
}

/** For a customer who wants to check a report: the page came with the app. */
export async function sendChecker(): Promise<void> {
  const page = await attempt(say('busy-file'), checkingPage);
  if (page) await send(new File([page], say('files-checker'), { type: 'text/html' }));
}

async function laid(out: () => Promise<string | null>): Promise<void> {
  const handed = await attempt(say('busy-file'), async () => ({ place: await out() }));
  if (handed?.place) session.said = say('files-lies', { place: handed.place });
}

function download(file: File): void {
  const url = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = url;
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** A PDF as the door hands it over. */
export function pdfOf(base64: string, name: string): File {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  return new File([bytes], name, { type: 'application/pdf' });
}
