/** Handing a file over: the share sheet where there is one, else a download. */
import { asProblem } from '../door';
import { session } from './session.svelte';

export function canShare(file: File): boolean {
  return navigator.canShare?.({ files: [file] }) ?? false;
}

export async function shareFile(file: File): Promise<void> {
  try {
    await navigator.share({ files: [file], title: file.name });
  } catch (cause) {
    // Closing the share sheet is no fault.
    if (cause instanceof DOMException && cause.name === 'AbortError') return;
    session.trouble = { problem: asProblem(cause) };
  }
}

export function saveFile(file: File): void {
  const url = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = url;
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
