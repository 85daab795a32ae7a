import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { LOGO_BYTES_MAX, LOGO_SIDE_MAX_PX } from '../../documents/pictures/logo.js';
import { read } from '../../http/read.js';
import { UpTo } from '../../http/types.js';
import { acceptPictures, pictureAnswer, sendPicture } from '../../http/upload.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { getLogo, getLogoPicture, logoIn, replaceLogo } from './logo.js';
import { StudioLogo } from './logo-contract.js';

const TYPES = ['image/png', 'image/jpeg'] as const;
const tags = ['settings'];

export const logoRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/studio/logo',
    {
      config: { right: 'money:read' },
      schema: { tags, summary: 'The logo of the studio', response: { 200: StudioLogo } },
    },
    (request) => read(request, (tx) => getLogo(tx)),
  );
  app.get(
    '/studio/logos/:sha256',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'The picture of a logo',
        params: z.object({ sha256: UpTo(64) }),
        response: { 200: pictureAnswer('The logo', TYPES), ...refuses('not-found') },
      },
    },
    async (request, reply) =>
      sendPicture(reply, await read(request, (tx) => getLogoPicture(tx, request.params.sha256))),
  );
  app.post(
    '/studio/logo/removal',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Take the logo off new papers; those that were issued keep it',
        response: { 200: StudioLogo, ...refuses('set-up-missing') },
      },
    },
    (request, reply) => write(request, reply, 200, (tx, now) => replaceLogo(tx, now, null)),
  );
  await app.register(uploadRoute);
};

const uploadRoute: FastifyPluginAsyncZod = async (app) => {
  acceptPictures(app, { what: 'logo', types: TYPES, bytesMax: LOGO_BYTES_MAX, atMost: '500 KB' });
  app.post(
    '/studio/logo',
    {
      config: { right: 'settings:write' },
      bodyLimit: LOGO_BYTES_MAX,
      schema: {
        tags,
        summary: 'Set the logo that new papers show: its bytes as they are, at most 500 KB',
        description: `At most ${LOGO_SIDE_MAX_PX} pixels on each side. Only its pixels are kept: what else the file tells, such as who made it and where, is not.`,
        consumes: [...TYPES],
        body: z.unknown().meta({ description: 'A PNG or JPEG, upright. Its first bytes say which.' }),
        response: { 201: StudioLogo, ...refuses('set-up-missing') },
      },
    },
    (request, reply) => {
      const logo = logoIn(request.body); // unpacked before anybody has to wait for it
      return write(request, reply, 201, (tx, now) => replaceLogo(tx, now, logo));
    },
  );
};
