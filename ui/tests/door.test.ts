import { afterEach, expect, test, vi } from 'vitest';
import { httpCarrier } from '../src/door/http';
import { schemeOrigin, tauriCarrier } from '../src/door/tauri';

const answer = (status: number, body: string) =>
  vi.stubGlobal(
    'fetch',
    vi.fn(async () => new Response(body, { status })),
  );

afterEach(() => {
  vi.unstubAllGlobals();
  delete (window as { __TAURI_INTERNALS__?: unknown }).__TAURI_INTERNALS__;
});

test('over HTTP a command goes as JSON to /call and its reply comes back', async () => {
  answer(200, '{"reply":"done"}');
  await expect(httpCarrier().call({ do: 'start' })).resolves.toEqual({ reply: 'done' });
  const [path, init] = vi.mocked(fetch).mock.calls[0] ?? [];
  expect(path).toBe('/call');
  expect(init).toMatchObject({ method: 'POST', body: '{"do":"start"}' });
});

test('a problem of the door is thrown as it is', async () => {
  const problem = { kind: 'bad_input', what: 'No such plate.', do_next: 'Type it.' };
  answer(422, JSON.stringify(problem));
  await expect(httpCarrier().call({ do: 'start' })).rejects.toEqual(problem);
});

test('a stranger is told to open the address that the hub printed', async () => {
  answer(401, 'no');
  await expect(httpCarrier().call({ do: 'start' })).rejects.toMatchObject({
    kind: 'hub',
    do_next: 'Open the address that the hub printed.',
  });
});

test('no answer, and an answer that is no JSON, are problems in words', async () => {
  vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('Failed to fetch')));
  await expect(httpCarrier().call({ do: 'start' })).rejects.toMatchObject({ kind: 'hub' });
  answer(502, '<html>');
  const broken = httpCarrier().call({ do: 'start' });
  await expect(broken).rejects.toMatchObject({ what: expect.stringContaining('502') });
});

test('a photo goes as raw bytes with its content type', async () => {
  answer(200, '{"photo":"abc"}');
  const photo = new Blob([new Uint8Array([1, 2, 3])], { type: 'image/png' });
  await expect(httpCarrier().putPhoto(photo)).resolves.toBe('abc');
  const [path, init] = vi.mocked(fetch).mock.calls[0] ?? [];
  expect(path).toBe('/photo');
  expect(init).toMatchObject({ body: photo, headers: { 'content-type': 'image/png' } });
});

test('in the shell a photo goes as one array of bytes, and a rejection is the problem', async () => {
  const invoke = vi.fn(async (): Promise<unknown> => ({ photo: 'abc' }));
  (window as { __TAURI_INTERNALS__?: unknown }).__TAURI_INTERNALS__ = { invoke };
  await expect(tauriCarrier().putPhoto(new Blob([new Uint8Array([7])]))).resolves.toBe('abc');
  expect(invoke).toHaveBeenCalledWith('put_photo', new Uint8Array([7]), expect.anything());
  const problem = { kind: 'storage', what: 'The disk is full.', do_next: 'Make room.' };
  invoke.mockRejectedValueOnce(problem);
  await expect(tauriCarrier().call({ do: 'start' })).rejects.toEqual(problem);
});

test('on Android a photo goes as base64, whole, however large', async () => {
  const invoke = vi.fn(async (): Promise<unknown> => ({ photo: 'abc' }));
  (window as { __TAURI_INTERNALS__?: unknown }).__TAURI_INTERNALS__ = { invoke };
  vi.spyOn(navigator, 'userAgent', 'get').mockReturnValue('Mozilla/5.0 (Linux; Android 14)');
  // More than a string is made of at once, and no whole number of threes.
  const bytes = Uint8Array.from({ length: 100_001 }, (_, i) => (i * 31) % 256);
  await tauriCarrier().putPhoto(new Blob([bytes]));
  const [command, payload] = (invoke.mock.calls as unknown[][])[0] ?? [];
  expect(command).toBe('put_photo');
  // Node's own decoder is the reference.
  const { base64 } = payload as { base64: string };
  expect(new Uint8Array(Buffer.from(base64, 'base64'))).toEqual(bytes);
});

test('photo addresses', () => {
  expect(httpCarrier().photoUrl('ff', 400)).toBe('/photo/ff?w=400');
  expect(httpCarrier().photoUrl('ff')).toBe('/photo/ff');
  expect(schemeOrigin('Mozilla/5.0 (Linux; Android 14)')).toBe('http://swarf.localhost');
  expect(schemeOrigin('Mozilla/5.0 (X11; Linux x86_64)')).toBe('swarf://localhost');
});
