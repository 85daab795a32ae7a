import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { listOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import { Membership, MembershipInFull, MembershipQuery, NewMembership } from './contract.js';
import { startMembership } from './service.js';
import { getMembership, listMemberships } from './to-api.js';

const tags = ['memberships'];

/** Who is a member, and becoming one. */
export const membershipRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/memberships',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Memberships by name: those that have not ended, that have, or all; of a person, or of a kind',
        querystring: MembershipQuery,
        response: { 200: listOf(Membership), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => listMemberships(tx, now, request.query)),
  );
  app.get(
    '/memberships/:membershipId',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'A membership, with its terms, its pauses, each month that was charged, and what happened',
        params: z.object({ membershipId: Id }),
        response: { 200: MembershipInFull, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => getMembership(tx, now, request.params.membershipId)),
  );
  const starting = { tags, params: z.object({ personId: Id }), body: NewMembership };
  const refused = refuses('not-found', 'already-member', 'shelf-taken', 'set-up-missing');
  app.post(
    '/people/:personId/memberships/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...starting,
        summary: 'What a membership would cost and when, and the letters that say so; changes nothing',
        response: { 200: previewOf(MembershipInFull), ...refused },
      },
    },
    (request) =>
      preview(request, (tx, now) => startMembership(tx, now, memberOf(request), request.params.personId, request.body)),
  );
  app.post(
    '/people/:personId/memberships',
    {
      config: { right: 'money:write' },
      schema: {
        ...starting,
        summary: 'Make somebody a member; what has begun is charged at once',
        response: { 201: MembershipInFull, ...refused },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        startMembership(tx, now, memberOf(request), request.params.personId, request.body),
      ),
  );
};
