import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../../http/read.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { NewWaitingEntry, WaitingEntry, WaitingList } from './contract.js';
import { addToWaitingList, getWaitingList } from './entries.js';

const tags = ['bookings'];
const courseId = z.object({ courseId: Id });

/** Who waits for a place on a course. */
export const waitingListRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/courses/:courseId/waiting-list',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Who waits for a place on a course, who has an offer, and who is next',
        params: courseId,
        response: { 200: WaitingList, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => getWaitingList(tx, request.params.courseId)),
  );
  app.post(
    '/courses/:courseId/waiting-list',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Put somebody on the waiting list of a course that is full',
        params: courseId,
        body: NewWaitingEntry,
        response: {
          201: WaitingEntry,
          ...refuses('not-found', 'already-there', 'already-waiting', 'places-left', 'course-full', 'course-over'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => addToWaitingList(tx, now, request.params.courseId, request.body)),
  );
};
