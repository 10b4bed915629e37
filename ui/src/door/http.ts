/** The hub's carrier: same origin, JSON for commands, raw bytes for photos. */
import type { Carrier } from './carrier';
import { asProblem, problem } from './problem';
import { words } from '../words';

async function ask(path: string, init: RequestInit): Promise<unknown> {
  let answer: Response;
  try {
    answer = await fetch(path, { ...init, method: 'POST', credentials: 'same-origin' });
  } catch {
    throw problem('hub', words.door.unreachable, words.door.unreachableDo);
  }
  if (answer.status === 401) throw problem('hub', words.door.stranger, words.door.strangerDo);
  const text = await answer.text();
  let body: unknown;
  try {
    body = JSON.parse(text);
  } catch {
    throw problem('hub', words.door.strange(answer.status), words.door.strangeDo);
  }
  if (!answer.ok) throw asProblem(body);
  return body;
}

export function httpCarrier(): Carrier {
  return {
    async call(command) {
      const body = JSON.stringify(command);
      const headers = { 'content-type': 'application/json' };
      return (await ask('/call', { body, headers })) as Awaited<ReturnType<Carrier['call']>>;
    },
    async putPhoto(photo) {
      const headers = { 'content-type': photo.type || 'image/jpeg' };
      const body = (await ask('/photo', { body: photo, headers })) as { photo: string };
      return body.photo;
    },
    photoUrl(photo, width) {
      return width ? `/photo/${photo}?w=${width}` : `/photo/${photo}`;
    },
  };
}
