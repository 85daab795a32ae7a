import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { preview, previewOf } from '../../notices/preview.js';
import { MakeUp, NewMakeUpRemoval } from './contract.js';
import { removeMakeUp } from './service.js';

const tags = ['bookings'];

/** Taking a make-up off again. */
export const makeUpRemovalRoutes: FastifyPluginAsyncZod = async (app) => {
  const removing = { tags, params: z.object({ makeUpId: Id }), body: NewMakeUpRemoval };
  const unremovable = refuses('not-found', 'already-cancelled', 'course-over');
  app.post(
    '/make-ups/:makeUpId/removal/preview',
    {
      config: { right: 'courses:write', keyless: true },
      schema: {
        ...removing,
        summary: 'What taking a make-up off would tell whom; changes nothing',
        response: { 200: previewOf(MakeUp), ...unremovable },
      },
    },
    (request) => preview(request, (tx, now) => removeMakeUp(tx, now, memberOf(request), request.params.makeUpId)),
  );
  app.post(
    '/make-ups/:makeUpId/removal',
    {
      config: { right: 'courses:write' },
      schema: {
        ...removing,
        summary: 'Take a make-up off again: its place in that session is free',
        response: { 201: MakeUp, ...unremovable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => removeMakeUp(tx, now, memberOf(request), request.params.makeUpId)),
  );
};
