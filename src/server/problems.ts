import type {
  FastifyError,
  FastifyInstance,
  FastifyReply,
  FastifyRequest,
  FastifySchemaValidationError,
} from 'fastify';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { problemFor } from '../database/sqlstate.js';
import { logSafeError } from '../http/log-safe-error.js';
import { listFaults } from '../http/validation.js';
import { invalidRequest, Problem } from '../problems.js';
import { sendNotFoundPage } from './desk.js';
import { wwwAuthenticate } from './www-authenticate.js';

/** Makes every refusal an answer by RFC 9457, also those that Fastify itself would word. */
export function answerProblems(app: FastifyInstance): void {
  const methodsAt = knownPaths(app);
  app.setErrorHandler(answerError);
  app.setNotFoundHandler((request, reply) => {
    const allowed = methodsAt(request.url);
    if (allowed.length === 0) return sendNotFoundPage(request, reply) ?? send(reply, nowhere(), request);
    reply.header('allow', allowed.join(', '));
    const detail = `This address takes ${allowed.join(', ')}.`;
    return send(reply, new Problem('method-not-allowed', detail), request);
  });
}

/** Answers any error; Fastify also calls it for an address that it can't read. */
export function answerError(error: FastifyError | Problem, request: FastifyRequest, reply: FastifyReply) {
  const problem = asProblem(error);
  if (problem.status >= 500) request.log.error({ err: logSafeError(error) }, 'request failed');
  return send(reply, problem, request);
}

function send(reply: FastifyReply, problem: Problem, request: FastifyRequest) {
  if (problem.status === 401 && !reply.hasHeader('www-authenticate'))
    reply.header('www-authenticate', wwwAuthenticate());
  return reply
    .code(problem.status)
    .type('application/problem+json')
    .serializer(JSON.stringify)
    .send({ ...problem.toJSON(), requestId: request.id });
}

function asProblem(error: FastifyError | Problem): Problem {
  if (error instanceof Problem) return error;
  if (hasZodFastifySchemaValidationErrors(error)) {
    const place = error.validationContext === 'body' ? '#' : `#/${error.validationContext}`;
    return invalidRequest(error.validation.flatMap((found) => listFaults([issueOf(found)], place)));
  }
  return problemFor(error) ?? frameworkProblem(error) ?? unexpected();
}

/** The issue as zod found it, which the type provider takes apart. */
const issueOf = ({ keyword, message, instancePath, params }: FastifySchemaValidationError) =>
  ({
    ...params,
    code: keyword,
    message,
    path: instancePath
      .split('/')
      .slice(1)
      .filter((part) => part !== ''),
  }) as unknown as z.core.$ZodIssue;

/** What Fastify and its plugins refuse by themselves. */
function frameworkProblem({ statusCode, message }: FastifyError): Problem | undefined {
  switch (statusCode) {
    case 400:
      return new Problem('malformed', `${message} Please correct it and send it again.`);
    case 404:
      return nowhere();
    case 413:
      return new Problem('too-large', 'Send at most 1 MiB at once.');
    case 414:
      return new Problem('address-too-long', 'Shorten the address, or send what is long in the body.');
    case 415:
      return new Problem('wrong-media-type', 'Send the body as application/json.');
    case 429:
      return new Problem('too-many-requests', 'Too much was asked for at once. Wait a few minutes, then try again.');
    default:
      return undefined;
  }
}

const nowhere = () => new Problem('not-found', 'There is nothing at this address. /openapi.json lists what there is.');

const unexpected = () =>
  new Problem(
    'unexpected',
    'Nothing was saved. Please try again; if it keeps happening, look for the number of this request in the log.',
  );

/** Collects the addresses that exist, so that a wrong method on one of them is told from a wrong address. */
function knownPaths(app: FastifyInstance): (url: string) => string[] {
  const known = new Map<string, { pattern: RegExp; methods: Set<string> }>();
  app.addHook('onRoute', ({ url, method }) => {
    if (url.includes('*')) return;
    const escaped = url.replace(/[.\\+*?[^\]$(){}=!<>|#]/g, '\\$&').replace(/:[A-Za-z]+/g, '[^/]+');
    const entry = known.get(url) ?? { pattern: new RegExp(`^${escaped}$`), methods: new Set<string>() };
    for (const one of [method].flat()) entry.methods.add(one);
    known.set(url, entry);
  });
  return (url) => {
    const path = url.split('?')[0] ?? '';
    const matching = [...known.values()].filter(({ pattern }) => pattern.test(path));
    return [...new Set(matching.flatMap(({ methods }) => [...methods]))].sort();
  };
}
