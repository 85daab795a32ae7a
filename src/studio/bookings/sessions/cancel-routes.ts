import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { LONG_LIMIT_MILLISECONDS } from '../../../database/transaction.js';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { NewSessionCancellation } from '../../courses/change-contract.js';
import { preview, previewOf } from '../../notices/preview.js';
import { SessionCancellation } from './cancel-contract.js';
import { cancelSessionAndNotify } from './cancel-session.js';

// Each booking may have a credit note and a letter, and there may be two hundred.
const LIMIT = { limitMilliseconds: LONG_LIMIT_MILLISECONDS };

/** Cancelling one session, and what that would give back and tell whom. */
export const sessionCancellationRoutes: FastifyPluginAsyncZod = async (app) => {
  const cancelling = { tags: ['bookings'], params: z.object({ sessionId: Id }), body: NewSessionCancellation };
  const uncancellable = refuses(
    ...(['not-found', 'already-cancelled', 'course-over', 'last-session', 'more-than-owed', 'set-up-missing'] as const),
  );
  app.post(
    '/sessions/:sessionId/cancellation/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...cancelling,
        summary: 'What cancelling one session would give back to whom, and every letter; changes nothing',
        response: { 200: previewOf(SessionCancellation), ...uncancellable },
      },
    },
    (request) =>
      preview(
        request,
        (tx, now) => cancelSessionAndNotify(tx, now, memberOf(request), request.params.sessionId, request.body),
        LIMIT,
      ),
  );
  app.post(
    '/sessions/:sessionId/cancellation',
    {
      config: { right: 'money:write' },
      schema: {
        ...cancelling,
        summary: 'Cancel one session of a course that goes on, give a sum back for it, and tell everyone concerned',
        response: { 201: SessionCancellation, ...uncancellable },
      },
    },
    (request, reply) =>
      write(
        ...([request, reply, 201] as const),
        (tx, now) => cancelSessionAndNotify(tx, now, memberOf(request), request.params.sessionId, request.body),
        LIMIT,
      ),
  );
};
