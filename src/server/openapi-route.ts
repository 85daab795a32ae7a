import { STATUS_CODES } from 'node:http';
import type { SwaggerTransform } from '@fastify/swagger';
import type { RouteOptions } from 'fastify';
import { jsonSchemaTransform } from 'fastify-type-provider-zod';
import { type Right, TOKEN_RIGHTS } from '../http/rights.js';
import { isSafe } from './rights.js';

const KEY = {
  'Idempotency-Key': {
    type: 'string',
    minLength: 8,
    maxLength: 257,
    description: 'A UUID in quotes, fresh for each new request. The same again gets the first answer again.',
  },
};
const IF_MATCH = {
  'If-Match': {
    type: 'string',
    description: 'The ETag of what you read: a later change by somebody else is not lost that way.',
  },
  'If-None-Match': { type: 'string', description: 'Instead of If-Match: *, to add what is not there yet.' },
};
const IF_NONE_MATCH = {
  'If-None-Match': { type: 'string', description: 'The ETag of what you have: it is not sent again (304).' },
};
const ETAG = { ETag: { type: 'string', description: 'Of what is shown, for If-Match and If-None-Match.' } };

/** A route as the document shows it: its own contract, the right it takes, and how the server around it refuses. */
export const describeRoute: SwaggerTransform = (document) => {
  const { schema, url } = jsonSchemaTransform(document as Parameters<typeof jsonSchemaTransform>[0]);
  const { route } = document;
  if (!schema || schema.hide || !route.schema) return { schema, url };
  const answers = (schema.response ?? {}) as Record<string, unknown>;
  const refused = [...new Set([...Object.keys(answers).filter(isRefusal), ...refusalsAround(route)])];
  const right = route.config?.right;
  const shown = route.config?.tagged ? taggedAnswers(route, answers) : answers;
  const described = {
    ...schema,
    response: { ...shown, ...Object.fromEntries(refused.map((status) => [status, problem(status)])) },
    security: securityOf(right),
    ...headersOf(route),
  };
  return { schema: described, url };
};

function securityOf(right: Right | undefined): Record<string, Right[]>[] {
  if (right === 'public') return [];
  const rights = right === undefined || right === 'signed-in' ? [] : [right];
  return [{ session: rights }, ...(rights.every((one) => TOKEN_RIGHTS.includes(one)) ? [{ token: rights }] : [])];
}

function headersOf(route: RouteOptions) {
  const { method, config } = route;
  const [takesKey, isEdit] = [hasKey(route), isTaggedEdit(route)];
  const asks = method === 'GET' && config?.tagged;
  if (!takesKey && !asks) return {};
  const properties = { ...(takesKey && KEY), ...(isEdit && IF_MATCH), ...(asks && IF_NONE_MATCH) };
  return { headers: { type: 'object', required: takesKey ? ['Idempotency-Key'] : [], properties } };
}

/** What is shown bears its tag; who has it already is told so. */
function taggedAnswers({ method }: RouteOptions, answers: Record<string, unknown>) {
  const good = Object.entries(answers).filter(([status]) => !isRefusal(status));
  return {
    ...answers,
    ...Object.fromEntries(good.map(([status, answer]) => [status, { ...(answer as object), headers: ETAG }])),
    ...(method === 'GET' && {
      304: { description: 'It has not changed since you read it.', type: 'null', headers: ETAG },
    }),
  };
}

/** What changes something takes a key, but for what says that it needs none. */
const hasKey = ({ method, config }: RouteOptions) => changesIn(method) && !config?.keyless;
/** What replaces what somebody has read takes its tag. */
const isTaggedEdit = ({ method, config }: RouteOptions) => method === 'PUT' && config?.tagged === true;
const changesIn = (method: RouteOptions['method']) => [method].flat().some((each) => !isSafe(each));

const isRefusal = (status: string) => Number(status) >= 400;

/** What any such route may answer before its own code is reached, or where the database is away. */
function refusalsAround(route: RouteOptions): string[] {
  const { config, method, schema } = route;
  const changes = changesIn(method);
  const right = config?.right;
  return [
    ...(right === 'public' ? [] : ['401']),
    ...(changes || (right !== 'public' && right !== 'signed-in') ? ['403'] : []),
    ...(schema?.body ? ['400', '413', '415', '422'] : []),
    ...(hasKey(route) ? ['400', '422'] : []),
    ...(isTaggedEdit(route) ? ['412', '428'] : []),
    ...(schema?.params || schema?.querystring ? ['422'] : []),
    '429',
    '503',
    ...(changes ? ['507'] : []),
  ];
}

const problem = (status: string) => ({
  description: STATUS_CODES[status] ?? 'Refused',
  content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
});
