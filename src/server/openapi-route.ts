import { STATUS_CODES } from 'node:http';
import type { SwaggerTransform } from '@fastify/swagger';
import type { RouteOptions } from 'fastify';
import { jsonSchemaTransform } from 'fastify-type-provider-zod';
import { isSafe } from './rights.js';

const KEY = {
  type: 'object',
  required: ['Idempotency-Key'],
  properties: {
    'Idempotency-Key': {
      type: 'string',
      minLength: 8,
      maxLength: 257,
      description: 'A UUID in quotes, fresh for each new request. The same again gets the first answer again.',
    },
  },
};

/** A route as the document shows it: its own contract, the right it takes, and how the server around it refuses. */
export const describeRoute: SwaggerTransform = (document) => {
  const { schema, url } = jsonSchemaTransform(document as Parameters<typeof jsonSchemaTransform>[0]);
  const { route } = document;
  if (!schema || schema.hide || !route.schema) return { schema, url };
  const answers = (schema.response ?? {}) as Record<string, unknown>;
  const refused = [...new Set([...Object.keys(answers).filter(isRefusal), ...refusalsAround(route)])];
  const right = route.config?.right;
  const described = {
    ...schema,
    response: { ...answers, ...Object.fromEntries(refused.map((status) => [status, problem(status)])) },
    security: right === 'public' ? [] : [{ session: right === undefined || right === 'signed-in' ? [] : [right] }],
    ...('400' in answers && { headers: KEY }), // no route refuses by 400 itself but for a missing key
  };
  return { schema: described, url };
};

const isRefusal = (status: string) => Number(status) >= 400;

/** What any such route may answer before its own code is reached, or where the database is away. */
function refusalsAround({ config, method, schema }: RouteOptions): string[] {
  const changes = [method].flat().some((each) => !isSafe(each));
  const right = config?.right;
  return [
    ...(right === 'public' ? [] : ['401']),
    ...(changes || (right !== 'public' && right !== 'signed-in') ? ['403'] : []),
    ...(schema?.body ? ['400', '413', '415', '422'] : []),
    ...(schema?.params || schema?.querystring ? ['422'] : []),
    '429',
    '503',
  ];
}

const problem = (status: string) => ({
  description: STATUS_CODES[status] ?? 'Refused',
  content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
});
