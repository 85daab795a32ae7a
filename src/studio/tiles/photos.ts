import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Upload } from '../../http/upload.js';
import { Problem } from '../../problems.js';
import type { Tile } from './contract.js';
import { photoType } from './photo-type.js';
import { getTile, lockTileForChange } from './service.js';

const PHOTOS_MAX = 12;

/** Keeps a photo with its tile, as it came. */
export async function addPhoto(tx: Transaction, now: Date, tileId: string, body: unknown): Promise<Tile> {
  const mediaType = body instanceof Upload ? photoType(body.bytes) : null;
  if (!(body instanceof Upload) || mediaType === null)
    throw new Problem(
      'invalid-request',
      'This is not a photo in JPEG, PNG or WebP. Save it as one of these and send it again.',
      {
        errors: [{ pointer: '#', detail: 'must begin like a JPEG, PNG or WebP' }],
      },
    );
  const { photos, number } = await lockTileForChange(tx, tileId);
  if (photos.length >= PHOTOS_MAX)
    throw new Problem(
      'invalid-request',
      `Tile ${number} has ${photos.length} photos, the most for one tile. Delete one first.`,
    );
  const image = Uint8Array.from(body.bytes);
  await tx.testTilePhoto.create({ data: { id: newId(), tileId, mediaType, image, addedAt: now } });
  return getTile(tx, tileId);
}

/** A photo of a tile, as it came. */
export async function getPhoto(
  tx: Transaction,
  tileId: string,
  id: string,
): Promise<{ mediaType: string; image: Uint8Array }> {
  const row = await tx.testTilePhoto.findFirst({ where: { id, tileId } });
  if (!row) throw new Problem('not-found', 'This tile has no such photo. Look the tile up again.');
  return row;
}

/** Takes a photo away for good: it may show somebody who does not want to be seen. The tile and its other photos stay. */
export async function removePhoto(tx: Transaction, tileId: string, id: string): Promise<Tile> {
  await lockTileForChange(tx, tileId);
  const { count } = await tx.testTilePhoto.deleteMany({ where: { id, tileId } });
  if (count === 0) throw new Problem('not-found', 'This tile has no such photo. Look the tile up again.');
  return getTile(tx, tileId);
}
