import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../../http/read.js';
import { Id } from '../../../http/types.js';
import { refuses } from '../../../problems.js';
import { MembershipUse, MembershipUseQuery } from './contract.js';
import { getMembershipUse } from './read.js';

/** What of what a membership includes was used. */
export const useRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/memberships/:membershipId/use',
    {
      config: { right: 'money:read' },
      schema: {
        tags: ['memberships'],
        summary: 'What a member used in a month against what is included, and what was beyond it',
        params: z.object({ membershipId: Id }),
        querystring: MembershipUseQuery,
        response: { 200: MembershipUse, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => getMembershipUse(tx, now, request.params.membershipId, request.query)),
  );
};
