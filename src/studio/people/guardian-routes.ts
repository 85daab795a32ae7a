import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Guardians, NewGuardians } from './contract.js';
import { changeGuardians, getGuardians, lockGuardians } from './guardians.js';

const tags = ['people'];
const params = z.object({ personId: Id });

/** Who answers for a child. */
export const guardianRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/people/:personId/guardians',
    {
      config: { right: 'people:read', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'Who answers for a child, and for whom somebody answers',
        response: { 200: Guardians, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => getGuardians(tx, request.params.personId)),
  );
  app.put(
    '/people/:personId/guardians',
    {
      config: { right: 'people:write', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'Say who answers for a child: whom to ring, and who reads the letters',
        body: NewGuardians,
        response: { 200: Guardians, ...refuses('not-found', 'merged', 'not-a-child') },
      },
    },
    (request, reply) => {
      const { personId } = request.params;
      return edit(
        request,
        reply,
        (tx) => lockGuardians(tx, personId),
        (tx) => changeGuardians(tx, personId, request.body),
      );
    },
  );
};
