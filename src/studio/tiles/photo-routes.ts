import type { FastifyError } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { Problem, refuses } from '../../problems.js';
import { Tile } from './contract.js';
import { addPhoto, getPhoto } from './photos.js';
import { PHOTO_TYPES, Upload } from './upload.js';

const BYTES_MAX = 5_000_000;
const tags = ['test tiles'];
const picture = { schema: z.any() };

export const tilePhotoRoutes: FastifyPluginAsyncZod = async (app) => {
  app.removeAllContentTypeParsers(); // in here alone: nothing but photos comes this way
  app.addContentTypeParser([...PHOTO_TYPES], { parseAs: 'buffer', bodyLimit: BYTES_MAX }, (_request, bytes, done) =>
    done(null, new Upload(bytes as Buffer)),
  );
  app.setErrorHandler((error: FastifyError) => {
    throw inWordsOfPhotos(error);
  });
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
          200: {
            description: 'The photo',
            content: { 'image/jpeg': picture, 'image/png': picture, 'image/webp': picture },
          },
          ...refuses('not-found'),
        },
      },
    },
    async (request, reply) => {
      const { mediaType, image } = await read(request, (tx) =>
        getPhoto(tx, request.params.tileId, request.params.photoId),
      );
      // it never changes; a browser that guessed at its kind could be made to run it
      reply.header('cache-control', 'private, max-age=31536000, immutable').header('x-content-type-options', 'nosniff');
      reply.header('content-disposition', 'inline').type(mediaType);
      return reply.serializer((bytes) => bytes as never).send(Buffer.from(image));
    },
  );
};

function inWordsOfPhotos(error: FastifyError): Error {
  if (error instanceof Problem) return error;
  if (error.statusCode === 413)
    return new Problem('too-large', 'The photo is larger than 5 MB. Make it smaller and send it again.');
  if (error.statusCode === 415)
    return new Problem('wrong-media-type', 'Send the photo as image/jpeg, image/png or image/webp.');
  return error;
}
