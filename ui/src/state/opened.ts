/** What the app was opened with: a link of the hub, or an export. Asked at the start and on coming back. */
import { asProblem, handover } from '../door';
import { go } from './route.svelte';
import { session } from './session.svelte';

async function ask(): Promise<void> {
  const handed = await handover()
    ?.openedWith()
    .catch((cause: unknown) => {
      session.trouble = { problem: asProblem(cause) };
      return null;
    });
  if (handed?.what === 'pair') {
    const { address, code, fingerprint } = handed;
    session.pairing = { address, code, fingerprint };
    go('/sync');
  } else if (handed?.what === 'export' && session.waiting !== handed.name) {
    session.waiting = handed.name;
    go('/take-in');
  }
}

/** Watches until the returned function is called. */
export function watchOpened(): () => void {
  const back = (): void => {
    if (!document.hidden) void ask();
  };
  void ask();
  document.addEventListener('visibilitychange', back);
  return () => document.removeEventListener('visibilitychange', back);
}
