import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';

const BUILT = fileURLToPath(new URL('../../dist/desk', import.meta.url));
const PAGE = join(BUILT, 'index.html');

/** The owner's nouns and what comes before them; what is below each of them the desk knows itself. */
const NOUNS = ['courses', 'people', 'ware', 'kilns', 'shelf', 'money', 'letters', 'studio'];
const ADDRESSES = [
  '/',
  '/set-up',
  '/sign-in',
  '/password',
  '/ask/*',
  ...NOUNS.flatMap((noun) => [`/${noun}`, `/${noun}/*`]),
];

/** A person who opens what there is not is shown the desk, with the way back; a program is told in JSON, as everywhere in the API. */
export function sendNotFoundPage(request: FastifyRequest, reply: FastifyReply): FastifyReply | undefined {
  reply.header('vary', 'Accept');
  if (!isOpenedByPerson(request) || !existsSync(PAGE)) return undefined;
  return reply.code(404).type('text/html; charset=utf-8').header('cache-control', 'no-cache').send(readFileSync(PAGE));
}

const isOpenedByPerson = ({ url, headers: { accept = '' } }: FastifyRequest) =>
  /\btext\/html\b/.test(accept) && !/^\/(api|problems|docs)(\/|\?|$)/.test(url);

/** The desk: static files, and its one page at every address below one of its nouns. */
export const deskRoutes: FastifyPluginAsync = async (app) => {
  if (!existsSync(BUILT)) return; // the API alone, where the desk was not built
  app.addHook('onRoute', (route) => {
    route.config = { ...route.config, right: 'public' };
    route.schema = { ...route.schema, hide: true };
  });
  app.addHook('onSend', async (_request, reply) => void reply.header('vary', 'Accept-Encoding'));
  // compressed when it was built (vite.config.ts): at the highest quality, and at no cost while people wait
  const files = { index: false as const, preCompressed: true };
  await app.register(fastifyStatic, { ...files, root: BUILT, serve: false });
  // one route for all of them: hundreds would take a sixth of a second of every start
  const [root, prefix] = [join(BUILT, 'assets'), '/assets/'];
  await app.register(fastifyStatic, { ...files, root, prefix, decorateReply: false, maxAge: '1y', immutable: true });
  for (const url of ADDRESSES)
    app.get(url, (_request, reply) => reply.sendFile('index.html', { maxAge: 0, immutable: false }));
};
