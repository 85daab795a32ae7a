import { fetchAllPages } from '../../../api/all-pages';
import { api, type Schemas } from '../../../api/client';
import { sendPicture } from '../../../api/send-picture';
import { toStoredPhoto } from './resize-photo';

export type Tile = Schemas['TestTile'];
export type Choices = {
  materials: Schemas['StockedMaterial'][];
  kilns: Schemas['Kiln'][];
  schedules: Schemas['Schedule'][];
};
export type Wanted = { search: string; bodyId: string; glazeId: string };

/** Every tile that holds the words, the newest first; the words go with what they found. */
export async function findTiles({ search, bodyId, glazeId }: Wanted, signal: AbortSignal) {
  const words = search.trim();
  const asked = { ...(words && { search: words }), ...(bodyId && { bodyId }), ...(glazeId && { glazeId }) };
  const found = await fetchAllPages('which tiles there are', (query) =>
    api.GET('/api/test-tiles', { params: { query: { ...query, ...asked } }, signal }),
  );
  return { tiles: found.reverse(), search: words };
}

/** What a new tile can be made of, and how it can be fired. */
export async function readChoices(me: Schemas['Me'], signal: AbortSignal): Promise<Choices> {
  const firings = me.rights.includes('firings:read');
  const [materials, kilns, schedules] = await Promise.all([
    fetchAllPages('what a tile can be made of', (query) => api.GET('/api/materials', { params: { query }, signal })),
    firings
      ? fetchAllPages('which kilns there are', (query) => api.GET('/api/kilns', { params: { query }, signal }))
      : [],
    firings
      ? fetchAllPages('which schedules there are', (query) => api.GET('/api/schedules', { params: { query }, signal }))
      : [],
  ]);
  return { materials, kilns, schedules };
}

/** Sends a photo, made ready to be kept. */
export async function sendPhoto(tileId: string, photo: File, headers: { 'idempotency-key': string }): Promise<void> {
  await sendPicture(`/api/test-tiles/${tileId}/photos`, await toStoredPhoto(photo), headers);
}
