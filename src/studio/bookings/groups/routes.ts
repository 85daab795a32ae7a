import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { Booking } from '../contract.js';
import { NewNames } from './contract.js';
import { nameGuests } from './service.js';

/** Names that follow once a group has booked. */
export const groupRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/bookings/:bookingId/names',
    {
      config: { right: 'money:write' },
      schema: {
        tags: ['bookings'],
        summary: 'Name some of a group who had no name so far; the price stays',
        params: z.object({ bookingId: Id }),
        body: NewNames,
        response: { 201: Booking, ...refuses('not-found', 'merged', 'already-cancelled', 'already-there', 'no-place') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        nameGuests(tx, now, memberOf(request), request.params.bookingId, request.body),
      ),
  );
};
