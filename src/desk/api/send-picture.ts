import { Refused } from './client';

/** Sends a picture as raw bytes, which the typed client has no way to say. What the server can't take it refuses in its own words. */
export async function sendPicture(path: string, picture: Blob, headers: { 'idempotency-key': string }): Promise<void> {
  const answer = await fetch(path, {
    ...{ method: 'POST', body: picture },
    headers: { ...headers, 'content-type': picture.type || 'image/jpeg' },
  }).catch(() => null);
  if (answer?.ok) return;
  const said = await answer?.json().catch(() => null);
  throw new Refused(
    said?.type ?? 'unreachable',
    said?.detail ?? 'The server can’t be reached. Nothing was changed; look whether it runs, then try again.',
  );
}
