/** The hub's carrier: same origin, JSON for commands, raw bytes for photos. */
import type { Carrier } from './carrier';
import { asProblem, meanwhile, problem } from './problem';
import { say } from '../words';

/** Fetch lets 64 KiB in all outlive a page (Fetch standard, keepalive quota); a character may be 3 bytes. */
const KEEPALIVE_CHARS = 16_000;

async function ask(path: string, init: RequestInit): Promise<unknown> {
  let answer: Response;
  try {
    answer = await fetch(path, { ...init, method: 'POST', credentials: 'same-origin' });
  } catch {
    throw problem('hub', say('door-unreachable'), meanwhile(say('door-unreachable-do')));
  }
  if (answer.status === 401) throw problem('hub', say('door-stranger'), say('door-stranger-do'));
  const text = await answer.text();
  let body: unknown;
  try {
    body = JSON.parse(text);
  } catch {
    throw problem(
      'hub',
      say('door-strange', { status: answer.status }),
      meanwhile(say('door-strange-do')),
    );
  }
  if (!answer.ok) throw asProblem(body);
  return body;
}

export function httpCarrier(): Carrier {
  return {
    hub: location.origin,
    handover: null,

    async call(command) {
      const body = JSON.stringify(command);
      const headers = { 'content-type': 'application/json' };
      // What is sent as the page goes must arrive; only small bodies may outlive their page.
      const keepalive = body.length < KEEPALIVE_CHARS;
      return (await ask('/call', { body, headers, keepalive })) as Awaited<
        ReturnType<Carrier['call']>
      >;
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
