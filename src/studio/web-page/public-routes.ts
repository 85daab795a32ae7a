import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ownAddress } from '../../http/own-address.js';
import { read } from '../../http/read.js';
import { refuses } from '../../problems.js';
import { calendarFile } from './calendar-file.js';
import { htmlFragment } from './html-fragment.js';
import { listPublicCourses, type PublicCourses } from './public-courses.js';
import { getOpenWebPage } from './service.js';
import { structuredData } from './structured-data.js';

const SHOWN_SECONDS = 60;
const config = { right: 'public' } as const;
const schemaOf = (summary: string, type: string) => ({
  tags: ['courses'],
  summary,
  description: 'Anyone may read it while the owner has it on, a page of another site too. It is kept for a minute.',
  response: {
    200: { description: 'Coming courses', content: { [type]: { schema: z.string() } } },
    ...refuses('not-found', 'set-up-missing'),
  },
});

/** What anyone may read of the studio's courses. */
export const publicRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/public/courses.json',
    { config, schema: schemaOf('Coming courses with places left, as JSON-LD by schema.org', 'application/ld+json') },
    (request, reply) => answer(request, reply, 'application/ld+json', (shown) => JSON.stringify(structuredData(shown))),
  );
  app.get(
    '/public/courses.html',
    { config, schema: schemaOf('Coming courses with places left, as a fragment of HTML', 'text/html') },
    (request, reply) => answer(request, reply, 'text/html', htmlFragment),
  );
  app.get(
    '/public/courses.ics',
    { config, schema: schemaOf('The sessions of coming courses (RFC 5545)', 'text/calendar') },
    (request, reply) => answer(request, reply, 'text/calendar', calendarFile),
  );
};

async function answer(
  request: FastifyRequest,
  reply: FastifyReply,
  type: string,
  write: (shown: PublicCourses, now: Date) => string,
) {
  reply.header('access-control-allow-origin', '*'); // a refusal too can be read by the page that asked
  const text = await read(request, async (tx, now) =>
    write(await listPublicCourses(tx, now, await getOpenWebPage(tx), ownAddress(request)), now),
  );
  return reply.type(`${type}; charset=utf-8`).header('cache-control', `public, max-age=${SHOWN_SECONDS}`).send(text);
}
