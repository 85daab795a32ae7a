import type { FastifyInstance } from 'fastify';

/** One line per request: its id, the route and how it went. Neither address nor body is logged, since both can name people. */
export function logRequests(app: FastifyInstance): void {
  app.addHook('onResponse', async (request, reply) => {
    request.log.info(
      {
        method: request.method,
        route: request.routeOptions.url ?? 'none',
        status: reply.statusCode,
        milliseconds: Math.round(reply.elapsedTime),
      },
      'answered',
    );
  });
}
