import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { acceptPictures, pictureAnswer, sendPicture } from '../../http/upload.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Tile } from './contract.js';
import { PHOTO_TYPES } from './photo-type.js';
import { addPhoto, getPhoto } from './photos.js';

const BYTES_MAX = 5_000_000;
const tags = ['test tiles'];

export const tilePhotoRoutes: FastifyPluginAsyncZod = async (app) => {
  acceptPictures(app, { what: 'photo', types: PHOTO_TYPES, bytesMax: BYTES_MAX, atMost: '5 MB' });
  app.post(
    '/test-tiles/:tileId/photos',
    {
      config: { right: 'stock:write' },
      bodyLimit: BYTES_MAX,
      schema: {
        tags,
        summary: 'Add a photo to a test tile: its bytes as they are, at most 5 MB',
        consumes: [...PHOTO_TYPES],
        params: z.object({ tileId: Id }),
        body: z.unknown().meta({ description: 'A JPEG, PNG or WebP. Its first bytes say which.' }),
        response: {
          201: Tile,
          ...refuses('not-found'),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => addPhoto(tx, now, request.params.tileId, request.body)),
  );
  app.get(
    '/test-tiles/:tileId/photos/:photoId',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'A photo of a test tile, as it came',
        params: z.object({ tileId: Id, photoId: Id }),
        response: {
          200: pictureAnswer('The photo', PHOTO_TYPES),
          ...refuses('not-found'),
        },
      },
    },
    async (request, reply) =>
      sendPicture(reply, await read(request, (tx) => getPhoto(tx, request.params.tileId, request.params.photoId))),
  );
};
