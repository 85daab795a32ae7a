import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { CourseChange, CourseParticulars } from './change-contract.js';
import { changeParticulars, getParticulars, listChanges, lockParticulars } from './changes.js';
import { changeTerms, getTerms, lockTerms } from './course-terms.js';
import { CourseTerms } from './course-terms-contract.js';

const tags = ['courses'];
const params = z.object({ courseId: Id });

/** Changing a course that is in the calendar, and what was changed. */
export const courseChangeRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/courses/:courseId/particulars',
    {
      config: { right: 'courses:read', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'What can be changed of a course: its title, places, minimum and note for students',
        response: { 200: CourseParticulars, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => getParticulars(tx, request.params.courseId)),
  );
  app.put(
    '/courses/:courseId/particulars',
    {
      config: { right: 'courses:write', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'Change the title, places, minimum or note of a course; never to fewer places than are taken',
        body: CourseParticulars,
        response: { 200: CourseParticulars, ...refuses('not-found', 'course-full', 'course-over', 'room-full') },
      },
    },
    (request, reply) => {
      const { courseId } = request.params;
      return edit(
        request,
        reply,
        (tx) => lockParticulars(tx, courseId),
        (tx, now) => changeParticulars(tx, now, memberOf(request), courseId, request.body),
      );
    },
  );
  app.get(
    '/courses/:courseId/terms',
    {
      config: { right: 'money:read', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'On what terms places of a course are sold: price, a later price, deposit, days of booking, ages',
        response: { 200: CourseTerms, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => getTerms(tx, now, request.params.courseId)),
  );
  app.put(
    '/courses/:courseId/terms',
    {
      config: { right: 'courses:write', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'Change on what terms places are sold from now on; what is booked keeps its own',
        body: CourseTerms,
        response: { 200: CourseTerms, ...refuses('not-found', 'course-over', 'concession-full', 'set-up-missing') },
      },
    },
    (request, reply) => {
      const { courseId } = request.params;
      return edit(
        request,
        reply,
        (tx, now) => lockTerms(tx, now, courseId),
        (tx, now) => changeTerms(tx, now, memberOf(request), courseId, request.body),
      );
    },
  );
  app.get(
    '/courses/:courseId/changes',
    {
      config: { right: 'courses:read' },
      schema: {
        ...{ tags, params },
        summary: 'What was changed of a course, by whom and when, the first change first',
        querystring: PageQuery,
        response: { 200: pageOf(CourseChange), ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => listChanges(tx, request.params.courseId, request.query)),
  );
};
