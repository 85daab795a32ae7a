import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { refuses } from '../../problems.js';
import { KilnLoads } from './contract.js';
import { listKilnLoads } from './service.js';

export const kilnLoadsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/courses/:courseId/kiln-loads',
    {
      config: { right: 'planning:read' },
      schema: {
        tags: ['planning'],
        summary: 'Which kiln loads a course causes, and between when each must be fired',
        params: z.object({ courseId: Id }),
        response: { 200: KilnLoads, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => listKilnLoads(tx, request.params.courseId)),
  );
};
