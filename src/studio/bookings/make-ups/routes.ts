import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { read } from '../../../http/read.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { preview, previewOf } from '../../notices/preview.js';
import { MakeUp, MakeUpPlaces, NewMakeUp } from './contract.js';
import { getMakeUpPlaces } from './read.js';
import { addMakeUp } from './service.js';

const tags = ['bookings'];

/** Who comes to the like session of another course for one that they miss. */
export const makeUpRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/sessions/:sessionId/make-up-places',
    {
      config: { right: 'courses:write' },
      schema: {
        tags,
        summary: 'The sessions of other courses in which this one can be made up, the most alike first',
        params: z.object({ sessionId: Id }),
        response: { 200: MakeUpPlaces, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx, now) => getMakeUpPlaces(tx, now, request.params.sessionId)),
  );
  const adding = { tags, params: z.object({ bookingId: Id }), body: NewMakeUp };
  const unmakeable = refuses(
    ...(['not-found', 'already-cancelled', 'already-there', 'course-full', 'course-over', 'no-make-up'] as const),
  );
  app.post(
    '/bookings/:bookingId/make-ups/preview',
    {
      config: { right: 'courses:write', keyless: true },
      schema: {
        ...adding,
        summary: 'Where somebody would make up a session, and the letter that says so; changes nothing',
        response: { 200: previewOf(MakeUp), ...unmakeable },
      },
    },
    (request) =>
      preview(request, (tx, now) => addMakeUp(tx, now, memberOf(request), request.params.bookingId, request.body)),
  );
  app.post(
    '/bookings/:bookingId/make-ups',
    {
      config: { right: 'courses:write' },
      schema: {
        ...adding,
        summary: 'Let somebody make up a session that they miss in another course, with a place of its own there',
        response: { 201: MakeUp, ...unmakeable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        addMakeUp(tx, now, memberOf(request), request.params.bookingId, request.body),
      ),
  );
};
