import Fastify from 'fastify';
import { validatorCompiler } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { studioRoutes } from '../../src/server/routes.js';

/** What one part of a request must meet. */
export interface RequestContract {
  /** As "POST /people body". */
  name: string;
  schema: z.ZodType;
}

/** Every zod schema that a route of the studio holds a request against. */
export async function requestContracts(): Promise<RequestContract[]> {
  const found: RequestContract[] = [];
  const app = Fastify();
  app.setSerializerCompiler(() => JSON.stringify);
  app.setValidatorCompiler((route) => {
    found.push({
      name: `${route.method} ${route.url} ${route.httpPart}`,
      schema: route.schema as unknown as z.ZodType,
    });
    return validatorCompiler(route as unknown as Parameters<typeof validatorCompiler>[0]);
  });
  await app.register(studioRoutes);
  await app.ready();
  await app.close();
  return found;
}
