import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { preview, previewOf } from '../../notices/preview.js';
import { changeName } from './change-name.js';
import { NameChange, NewNameChange } from './contract.js';

/** Somebody else comes on a place of a booking. */
export const nameRoutes: FastifyPluginAsyncZod = async (app) => {
  const changing = { tags: ['bookings'], params: z.object({ bookingId: Id }), body: NewNameChange };
  const refused = refuses(
    'not-found',
    'already-cancelled',
    'already-there',
    'course-over',
    'age-limit',
    'still-needed',
  );
  app.post(
    '/bookings/:bookingId/name-changes/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...changing,
        summary: 'Whom it would tell if somebody else came on a place of a booking; changes nothing',
        response: { 200: previewOf(NameChange), ...refused },
      },
    },
    (request) =>
      preview(request, (tx, now) => changeName(tx, now, memberOf(request), request.params.bookingId, request.body)),
  );
  app.post(
    '/bookings/:bookingId/name-changes',
    {
      config: { right: 'money:write' },
      schema: {
        ...changing,
        summary: 'Let somebody else come on a place of a booking, at the same price',
        response: { 201: NameChange, ...refused },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        changeName(tx, now, memberOf(request), request.params.bookingId, request.body),
      ),
  );
};
