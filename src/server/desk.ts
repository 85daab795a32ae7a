import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';

const BUILT = fileURLToPath(new URL('../../dist/desk', import.meta.url));
const PAGE = join(BUILT, 'index.html');

const PLACES = [
  ...['/', '/owes', '/price', '/price/:courseId', '/afterwards', '/afterwards/:courseId', '/shelf'],
  ...['/price/plans', '/price/plans/:planId', '/price/plans/new/:planId'],
  ...['/shelf/orders', '/shelf/sales', '/shelf/mixes', '/shelf/tiles', '/shelf/bring', '/shelf/count'],
  ...['/set-up', '/sign-in', '/studio'],
];

/** A person who opens what there is not is shown the desk, with the way back; a program is told in JSON, as everywhere in the API. */
export function showNowhere(request: FastifyRequest, reply: FastifyReply): FastifyReply | undefined {
  reply.header('vary', 'Accept');
  if (!isOpenedByPerson(request) || !existsSync(PAGE)) return undefined;
  return reply.code(404).type('text/html; charset=utf-8').header('cache-control', 'no-cache').send(readFileSync(PAGE));
}

const isOpenedByPerson = ({ url, headers: { accept = '' } }: FastifyRequest) =>
  /\btext\/html\b/.test(accept) && !/^\/(api|problems|docs)(\/|\?|$)/.test(url);

/** The desk: static files, and its one page at every address that is a place on it. */
export const deskRoutes: FastifyPluginAsync = async (app) => {
  if (!existsSync(BUILT)) return; // the API alone, where the desk was not built
  app.addHook('onRoute', (route) => {
    route.config = { ...route.config, right: 'public' };
    route.schema = { ...route.schema, hide: true };
  });
  await app.register(fastifyStatic, { root: BUILT, index: false, wildcard: false, maxAge: '1y', immutable: true });
  for (const url of PLACES)
    app.get(url, (_request, reply) => reply.sendFile('index.html', { maxAge: 0, immutable: false }));
};
