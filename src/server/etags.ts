import type { FastifyInstance } from 'fastify';
import { assertReadable, etagOf, matchesWeakly } from '../http/etag.js';

/** Gives the answers of tagged routes their ETag, and spares whoever has read the same before its content (RFC 9110 s.15.4.5). */
export function tagAnswers(app: FastifyInstance): void {
  app.addHook('preHandler', async ({ routeOptions, headers }) => {
    const asked = headers['if-none-match'];
    // once the answer is written, a refusal would go out under the answer's own media type
    if (routeOptions.config.tagged && asked !== undefined) assertReadable('If-None-Match', asked);
  });
  app.addHook('preSerialization', async (request, reply, shown) => {
    if (!request.routeOptions.config.tagged || reply.statusCode >= 300) return shown;
    const tag = etagOf(shown);
    reply.header('etag', tag).header('cache-control', 'private, no-cache'); // kept by a browser, and asked for each time
    return shown;
  });
  app.addHook('onSend', async (request, reply, payload) => {
    const [tag, asked] = [reply.getHeader('etag'), request.headers['if-none-match']];
    if (!request.routeOptions.config.tagged || typeof tag !== 'string' || asked === undefined) return payload;
    if (!['GET', 'HEAD'].includes(request.method) || !matchesWeakly(asked, tag)) return payload;
    reply.code(304).removeHeader('content-length').removeHeader('content-type');
    return null;
  });
}
