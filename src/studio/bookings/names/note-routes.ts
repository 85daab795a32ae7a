import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { read } from '../../../http/read.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { BookingNote, NewBookingNote } from './contract.js';
import { addNote, listNotes } from './notes.js';

const tags = ['bookings'];

/** What the studio notes of bookings for itself. */
export const bookingNoteRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/courses/:courseId/booking-notes',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'What was noted of the bookings of a course, the first note first',
        params: z.object({ courseId: Id }),
        response: { 200: z.object({ items: z.array(BookingNote) }), ...refuses('not-found') },
      },
    },
    (request) => read(request, async (tx) => ({ items: await listNotes(tx, request.params.courseId) })),
  );
  app.post(
    '/bookings/:bookingId/notes',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Note something of a booking for the studio; what was noted before stays',
        params: z.object({ bookingId: Id }),
        body: NewBookingNote,
        response: { 201: BookingNote, ...refuses('not-found') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        addNote(tx, now, memberOf(request), request.params.bookingId, request.body),
      ),
  );
};
