import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { read } from '../../http/read.js';
import { refuses } from '../../problems.js';
import { CalendarDays, CalendarDaysQuery, DAYS_MAX } from './contract.js';
import { getCalendarDays } from './service.js';

export const calendarDaysRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/calendar-days',
    {
      config: { right: 'courses:read' },
      schema: {
        tags: ['courses'],
        summary: `What is planned on some days, at most ${DAYS_MAX}: sessions with places left, and firings; without money`,
        querystring: CalendarDaysQuery,
        response: { 200: CalendarDays, ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => getCalendarDays(tx, now, request.query)),
  );
};
