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
export type Looked = { tiles: Tile[]; choices: Choices };

/** Every tile that holds the words, the newest first. */
export async function findTiles(search: string, bodyId = '', glazeId = ''): Promise<Tile[]> {
  const asked = {
    ...(search.trim() && { search: search.trim() }),
    ...(bodyId && { bodyId }),
    ...(glazeId && { glazeId }),
  };
  const found = await fetchAllPages('which tiles there are', (query) =>
    api.GET('/api/test-tiles', { params: { query: { ...query, ...asked } } }),
  );
  return found.reverse();
}

/** All tiles, and what a new one can be made of. */
export async function readTiles(me: Schemas['Me']): Promise<Looked> {
  const firings = me.rights.includes('firings:read');
  const [tiles, materials, kilns, schedules] = await Promise.all([
    findTiles(''),
    fetchAllPages('what a tile can be made of', (query) => api.GET('/api/materials', { params: { query } })),
    firings ? fetchAllPages('which kilns there are', (query) => api.GET('/api/kilns', { params: { query } })) : [],
    firings
      ? fetchAllPages('which schedules there are', (query) => api.GET('/api/schedules', { params: { query } }))
      : [],
  ]);
  return { tiles, choices: { materials, kilns, schedules } };
}

/** Sends a photo, made ready to be kept. */
export async function sendPhoto(tileId: string, photo: File, headers: { 'idempotency-key': string }): Promise<void> {
  await sendPicture(`/api/test-tiles/${tileId}/photos`, await toStoredPhoto(photo), headers);
}
