import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import { moveBooking } from './move-booking.js';
import { BookingMove, NewBookingMove } from './move-contract.js';

/** Moving a booking to another course, and what that would come to. */
export const moveRoutes: FastifyPluginAsyncZod = async (app) => {
  const moving = { tags: ['bookings'], params: z.object({ bookingId: Id }), body: NewBookingMove };
  const immovable = refuses(
    ...(['not-found', 'already-cancelled', 'already-there', 'course-full', 'concession-full', 'course-over'] as const),
    ...(['wrong-stage', 'more-than-owed', 'voucher-other-tax', 'address-missing'] as const),
  );
  app.post(
    '/bookings/:bookingId/move/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...moving,
        summary:
          'What moving a booking to another course would cost, carry over and refund, and its letters; changes nothing',
        response: { 200: previewOf(BookingMove), ...immovable },
      },
    },
    (request) =>
      preview(request, (tx, now) => moveBooking(tx, now, memberOf(request), request.params.bookingId, request.body)),
  );
  app.post(
    '/bookings/:bookingId/move',
    {
      config: { right: 'money:write' },
      schema: {
        ...moving,
        summary: 'Move a booking to another course: what was paid pays for that one',
        response: { 201: BookingMove, ...immovable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        moveBooking(tx, now, memberOf(request), request.params.bookingId, request.body),
      ),
  );
};
