import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { listOf, PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit, write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Course, CourseQuery, ListedCourse, NewCourse } from './contract.js';
import { CourseDraw, CourseReclaim, DrawnForCourse, NewCourseDraw, NewCourseReclaim } from './draw-contract.js';
import { getListedCourse, listCourses } from './list.js';
import { NewPlan, Plan } from './plan-contract.js';
import { changePlan, listPlans, lockPlanForChange } from './plans.js';
import { listReclaims, reclaimOfCourse } from './reclaims.js';
import * as courses from './service.js';

const tags = ['courses'];
const courseId = z.object({ courseId: Id });
const planId = z.object({ planId: Id });

export const coursesRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/course-plans',
    {
      config: { right: 'courses:write' },
      schema: {
        tags,
        summary: 'Add a course plan: sessions, pieces, materials, firings and hours',
        body: NewPlan,
        response: {
          201: Plan,
          ...refuses('not-found', 'already-there', 'outside-range'),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => courses.addPlan(tx, request.body)),
  );
  app.get(
    '/course-plans',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Course plans',
        querystring: PageQuery,
        response: { 200: pageOf(Plan) },
      },
    },
    (request) => read(request, (tx) => listPlans(tx, request.query)),
  );
  app.get(
    '/course-plans/:planId',
    {
      config: { right: 'money:read', tagged: true },
      schema: {
        tags,
        summary: 'A course plan',
        params: planId,
        response: { 200: Plan, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => courses.getPlan(tx, request.params.planId)),
  );
  app.put(
    '/course-plans/:planId',
    {
      config: { right: 'courses:write', tagged: true },
      schema: {
        tags,
        summary: 'Correct a course plan; what its courses depend on can’t change',
        params: planId,
        body: NewPlan,
        response: {
          200: Plan,
          ...refuses('not-found', 'already-there', 'still-needed', 'outside-range'),
        },
      },
    },
    (request, reply) => {
      const { planId } = request.params;
      return edit(
        request,
        reply,
        (tx) => lockPlanForChange(tx, planId),
        (tx, now) => changePlan(tx, now, planId, request.body),
      );
    },
  );
  app.post(
    '/courses',
    {
      config: { right: 'courses:write' },
      schema: {
        tags,
        summary: 'Give a plan its dates, price and places',
        body: NewCourse,
        response: {
          201: Course,
          ...refuses('not-found', 'tutor-busy', 'room-full', 'too-soon', 'closed-day', 'set-up-missing'),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => courses.addCourse(tx, request.body)),
  );
  app.get(
    '/courses',
    {
      config: { right: 'courses:read' },
      schema: {
        tags,
        summary: 'Courses with their sessions and how many places are taken, without money',
        querystring: CourseQuery,
        response: { 200: listOf(ListedCourse) },
      },
    },
    (request) => read(request, (tx, now) => listCourses(tx, now, request.query)),
  );
  app.get(
    '/courses/:courseId',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'A course with its price and terms',
        params: courseId,
        response: { 200: Course, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx, now) => courses.getCourseToday(tx, now, request.params.courseId)),
  );
  app.get(
    '/courses/:courseId/dates',
    {
      config: { right: 'courses:read' },
      schema: {
        tags,
        summary: 'A course with its sessions and how many places are taken, without money',
        params: courseId,
        response: { 200: ListedCourse, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx, now) => getListedCourse(tx, now, request.params.courseId)),
  );
  app.post(
    '/courses/:courseId/draws',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Take from the shelf what was weighed out for a course, or for one of its sessions',
        params: courseId,
        body: NewCourseDraw,
        response: { 201: CourseDraw, ...refuses('not-found', 'stock-impossible') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => courses.drawForCourse(tx, now, request.params.courseId, request.body)),
  );
  app.get(
    '/courses/:courseId/draws',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'What was drawn for a course, and at which session, oldest first',
        params: courseId,
        querystring: PageQuery,
        response: { 200: pageOf(DrawnForCourse), ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => courses.listCourseDraws(tx, request.params.courseId, request.query)),
  );
  app.post(
    '/courses/:courseId/reclaims',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Put clay, slip or glaze that came back of a course on the shelf again, once it is worked up',
        description: 'Keep scraps wet: dry clay dust is harmful to breathe.',
        params: courseId,
        body: NewCourseReclaim,
        response: {
          201: CourseReclaim,
          ...refuses('not-found', 'stock-impossible', 'set-up-missing'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => reclaimOfCourse(tx, now, request.params.courseId, request.body)),
  );
  app.get(
    '/courses/:courseId/reclaims',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'What came back of a course as reclaim, oldest first',
        params: courseId,
        querystring: PageQuery,
        response: { 200: pageOf(CourseReclaim), ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => listReclaims(tx, request.params.courseId, request.query)),
  );
};
