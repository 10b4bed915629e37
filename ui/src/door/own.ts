/** Files that came with the app itself. */
import { problem } from './problem';
import { say } from '../words';

/** The page that checks a report; absent where the build had no WebAssembly. */
export async function checkingPage(): Promise<Blob> {
  const answer = await fetch('verify.html');
  if (!answer.ok) throw problem('not_yet', say('files-no-checker'), say('files-ask-hub'));
  return answer.blob();
}
