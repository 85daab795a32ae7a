import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { listOf, PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import { completeAndNotify } from './completion.js';
import { Booking, BookingQuery, Completion, ListedBooking, Register } from './contract.js';
import { getRegister, listBookings, listCourseBookings } from './read-bookings.js';
import * as bookings from './service.js';

const tags = ['bookings'];
const courseId = z.object({ courseId: Id });
const bookingId = z.object({ bookingId: Id });

export const bookingsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/courses/:courseId/bookings',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'The bookings of a course, with what is paid and owed',
        params: courseId,
        querystring: PageQuery,
        response: { 200: pageOf(Booking), ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => listCourseBookings(tx, request.params.courseId, request.query)),
  );
  app.get(
    '/courses/:courseId/register',
    {
      config: { right: 'courses:read' },
      schema: {
        tags,
        summary: 'Who is coming, without money',
        params: courseId,
        response: { 200: Register, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx, now) => getRegister(tx, now, request.params.courseId)),
  );
  app.post(
    '/courses/:courseId/completion/preview',
    {
      config: { right: 'courses:write', keyless: true },
      schema: {
        tags,
        summary: 'What completing this course would do; changes nothing',
        params: courseId,
        response: { 200: previewOf(Completion), ...refuses('not-found', 'course-over', 'course-running') },
      },
    },
    (request) => preview(request, (tx, now) => completeAndNotify(tx, now, request.params.courseId)),
  );
  app.post(
    '/courses/:courseId/completion',
    {
      config: { right: 'courses:write' },
      schema: {
        tags,
        summary: 'Complete a course: what was billed for it in advance becomes income',
        params: courseId,
        response: {
          201: Completion,
          ...refuses('not-found', 'course-over', 'course-running'),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => completeAndNotify(tx, now, request.params.courseId)),
  );
  app.get(
    '/bookings',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Bookings, the latest first, by course, person, state or words',
        querystring: BookingQuery,
        response: { 200: listOf(ListedBooking), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx) => listBookings(tx, request.query)),
  );
  app.get(
    '/bookings/:bookingId',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'A booking, with what is paid and owed',
        params: bookingId,
        response: { 200: Booking, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => bookings.getBooking(tx, request.params.bookingId)),
  );
};
