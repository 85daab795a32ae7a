import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { isLoopback, ownAddress } from '../../http/own-address.js';
import { read } from '../../http/read.js';
import { Id, UpTo } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { newToken } from '../staff/secrets.js';
import { CalendarFeed, MadeCalendarFeed, NewCalendarFeed } from './contract.js';
import { addFeed, endFeed, listFeeds, noteFeedRead, readFeed } from './service.js';

const tags = ['courses'];
const config = { right: 'settings:write' } as const;
const File = z.object({ file: UpTo(200).meta({ description: 'The secret of a calendar, and ".ics".' }) });

export const calendarRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/calendar-feeds',
    {
      config,
      schema: {
        tags,
        summary: 'Which calendars can be subscribed to: the studio, each room, each member of staff',
        response: { 200: z.object({ items: z.array(CalendarFeed) }), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, async (tx) => ({ items: await listFeeds(tx) })),
  );
  app.post(
    '/calendar-feeds',
    {
      config,
      schema: {
        tags,
        summary: 'Make the secret address of a calendar, or a new one; it is shown once, and an earlier one ends',
        body: NewCalendarFeed,
        response: { 201: MadeCalendarFeed, ...refuses('not-found', 'set-up-missing') },
      },
    },
    async (request, reply) => {
      // The answer is kept under its key, and the secret must not be in it: it is added on the way out.
      let token: string | null = null;
      const made = await write(request, reply, 201, (tx, now) => {
        token = newToken();
        return addFeed(tx, now, memberOf(request), { ...request.body, token });
      });
      const base = ownAddress(request);
      const address = token === null ? null : `${base}/api/calendars/${token}.ics`;
      return { ...made, address, opensHereOnly: isLoopback(new URL(base).host) };
    },
  );
  app.post(
    '/calendar-feeds/:feedId/end',
    {
      config,
      schema: {
        tags,
        summary: 'End the address of a calendar',
        params: z.object({ feedId: Id }),
        response: { 200: z.object({ id: Id }), ...refuses('not-found') },
      },
    },
    (request, reply) => write(request, reply, 200, (tx, now) => endFeed(tx, now, request.params.feedId)),
  );
  app.get(
    '/calendars/:file',
    {
      config: { right: 'public' },
      schema: {
        tags,
        summary: 'What a calendar reads: coming sessions, and those of the last 60 days (RFC 5545)',
        params: File,
        response: {
          200: { description: 'The sessions', content: { 'text/calendar': { schema: z.string() } } },
          ...refuses('not-found', 'set-up-missing'),
        },
      },
    },
    async (request, reply) => {
      const token = request.params.file.replace(/\.ics$/, '');
      const { file, isNoted } = await read(request, (tx, now) => readFeed(tx, now, token));
      if (!isNoted) await noteFeedRead(request.server, token);
      return reply.type('text/calendar; charset=utf-8').header('cache-control', 'private, no-cache').send(file);
    },
  );
};
