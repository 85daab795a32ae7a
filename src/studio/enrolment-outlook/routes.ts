import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { read } from '../../http/read.js';
import { refuses } from '../../problems.js';
import { EnrolmentOutlook } from './contract.js';
import { getEnrolmentOutlook } from './service.js';

export const enrolmentOutlookRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/enrolment-outlook',
    {
      config: { right: 'money:read' },
      schema: {
        tags: ['planning'],
        summary: 'Which courses to come are filling, which holds run out, and whom to ring',
        response: { 200: EnrolmentOutlook, ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, getEnrolmentOutlook),
  );
};
