import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { read } from '../../../http/read.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { Consent, NewConsent, NewWithdrawal } from './contract.js';
import { listConsents, noteConsent, withdrawConsent } from './service.js';

const tags = ['people'];
const params = z.object({ personId: Id });

/** What guardians agreed to for their children. */
export const consentRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/people/:personId/consents',
    {
      config: { right: 'people:read' },
      schema: {
        ...{ tags, params },
        summary: 'What guardians agreed to for a child, the latest first',
        response: { 200: z.object({ items: z.array(Consent) }), ...refuses('not-found') },
      },
    },
    (request) => read(request, async (tx) => ({ items: await listConsents(tx, request.params.personId) })),
  );
  app.post(
    '/people/:personId/consents',
    {
      config: { right: 'people:write' },
      schema: {
        ...{ tags, params },
        summary: 'Note that a guardian agreed to something for a child: who, when, how and to what',
        body: NewConsent,
        response: { 201: Consent, ...refuses('not-found', 'merged', 'not-a-child') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        noteConsent(tx, now, memberOf(request), request.params.personId, request.body),
      ),
  );
  app.post(
    '/consents/:consentId/withdrawal',
    {
      config: { right: 'people:write' },
      schema: {
        tags,
        summary: 'Note that a consent counts no more',
        params: z.object({ consentId: Id }),
        body: NewWithdrawal,
        response: { 201: Consent, ...refuses('not-found', 'already-cancelled') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => withdrawConsent(tx, now, memberOf(request), request.params.consentId)),
  );
};
