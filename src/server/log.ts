import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';

/** One line per request: its id, the route and how it went. Neither address nor body is logged, since both can name people. */
export function logRequests(app: FastifyInstance): void {
  app.addHook('onResponse', async (request, reply) => logAnswer(request, reply));
}

/** For those whose address can't be read: they come to no route, and to no hook. */
export function logAnswer(request: FastifyRequest, reply: FastifyReply): void {
  request.log.info(
    {
      method: request.method,
      route: request.routeOptions.url ?? 'none',
      status: reply.statusCode,
      milliseconds: Math.round(reply.elapsedTime),
    },
    'answered',
  );
}
