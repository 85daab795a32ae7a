import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { read } from '../../../http/read.js';
import { Id } from '../../../http/types.js';
import { edit } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { getPersonAt } from '../../people/service.js';
import { CareNote, CourseCareNotes, NewCareNote } from './contract.js';
import { changeCareNote, getCareNote, listCareNotes, lockCareNote } from './notes.js';

const tags = ['bookings'];
const params = z.object({ personId: Id });

/** What people told the studio about health and access. */
export const careRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/people/:personId/care-note',
    {
      config: { right: 'care:write', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'What somebody told you about health or access, and who noted it',
        response: { 200: CareNote, ...refuses('not-found') },
      },
    },
    (request) => read(request, async (tx) => getCareNote(tx, (await getPersonAt(tx, request.params.personId)).id)),
  );
  app.put(
    '/people/:personId/care-note',
    {
      config: { right: 'care:write', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'Note, change or remove what somebody told you about health or access; what it said before is gone',
        body: NewCareNote,
        response: { 200: CareNote, ...refuses('not-found') },
      },
    },
    (request, reply) => {
      const { personId } = request.params;
      return edit(
        request,
        reply,
        (tx) => lockCareNote(tx, personId),
        (tx, now) => changeCareNote(tx, now, memberOf(request), personId, request.body),
        (tx) => getCareNote(tx, personId),
      );
    },
  );
  app.get(
    '/courses/:courseId/care-notes',
    {
      config: { right: 'care:read' },
      schema: {
        tags,
        summary: 'What those who come told you about health and access, at the sessions at which you may see it',
        params: z.object({ courseId: Id }),
        response: { 200: CourseCareNotes, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx, now) => listCareNotes(tx, now, memberOf(request), request.params.courseId)),
  );
};
