import swagger from '@fastify/swagger';
import swaggerUi from '@fastify/swagger-ui';
import type { FastifyInstance } from 'fastify';
import { jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { etagOf, matchesWeakly } from '../http/etag.js';
import { VERSION } from '../version.js';
import { describeRoute } from './openapi-route.js';

/** Half a megabyte takes long enough to write that anybody could keep the server busy by asking for it. */
function once<T>(make: () => T): () => T {
  let made: { is: T } | undefined;
  return () => {
    made ??= { is: make() };
    return made.is;
  };
}

/** The OpenAPI 3.1 document at /openapi.json, made from the routes' own contracts, and a page to read it at /docs. */
export async function describeApi(app: FastifyInstance): Promise<void> {
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Wareboard',
        version: VERSION,
        description:
          "Runs a small teaching pottery. Money is in whole minor units of the studio's currency, quantities carry their unit in the name, and every POST or PUT that changes something takes an Idempotency-Key header.",
        license: { name: 'MIT', identifier: 'MIT' },
      },
      components: {
        securitySchemes: {
          session: { type: 'apiKey', in: 'cookie', name: 'wareboard', description: 'Over HTTPS: __Host-wareboard.' },
          token: { type: 'http', scheme: 'bearer', description: 'For scripts, as POST /api/tokens makes it.' },
        },
      },
      security: [{ session: [] }],
    },
    transform: describeRoute,
    transformObject: jsonSchemaTransformObject,
  });
  const document = once(() => {
    const text = JSON.stringify(app.swagger());
    return { text, etag: etagOf(text) };
  });
  app.get('/openapi.json', { config: { right: 'public' }, schema: { hide: true } }, async (request, reply) => {
    const { text, etag } = document(); // sent as a weak tag, since the text may be compressed
    reply.header('etag', `W/${etag}`).header('cache-control', 'no-cache').type('application/json; charset=utf-8');
    const asked = request.headers['if-none-match'];
    return asked !== undefined && matchesWeakly(asked, etag) ? reply.code(304).send() : reply.send(text);
  });
  app.addHook('onRoute', (route) => {
    if (route.url.startsWith('/docs')) route.config = { ...route.config, right: 'signed-in' };
  });
  await app.register(swaggerUi, { routePrefix: '/docs', staticCSP: true });
}
