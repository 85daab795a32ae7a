import { createServer as servePlain } from 'node:http';
import { createServer as serveTls } from 'node:https';
import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import rateLimit from '@fastify/rate-limit';
import Fastify, { type FastifyBaseLogger, LogController } from 'fastify';
import { serializerCompiler, validatorCompiler, type ZodTypeProvider } from 'fastify-type-provider-zod';
import { pino } from 'pino';
import type { Database } from '../database/transaction.js';
import { inThisThread, type Renderer } from '../documents/renderer.js';
import { newId } from '../http/ids.js';
import type { SampleOf, SampleStudio } from '../http/sample-studio.js';
import { answerClientError } from './client-error-handler.js';
import { compressAnswers } from './compression.js';
import { deskRoutes } from './desk.js';
import { tagAnswers } from './etags.js';
import { healthRoutes } from './health.js';
import { logAnswer, logRequests } from './log.js';
import { describeApi } from './openapi.js';
import { problemPages } from './problem-pages.js';
import { answerError, answerProblems } from './problems.js';
import { guardRoutes } from './rights.js';
import { studioRoutes } from './routes.js';

export type AppOptions = {
  db: Database;
  /** The studio's clock; real time where it is left out. */
  now?: () => Date;
  /** Draws papers; this thread does, where it is left out. */
  renderer?: Renderer;
  /** Where requests and faults are logged; nowhere, where it is left out. */
  logger?: FastifyBaseLogger;
  trustProxy?: boolean | number | string;
  /** Whether people may sign in over plain HTTP from another machine. */
  plainHttp?: boolean;
  /** How people reach the program from outside; by the address that they opened, where it is left out. */
  baseUrl?: string | undefined;
  /** The invented studio beside this one, where this process can serve it. */
  sampleStudio?: SampleStudio | undefined;
  /** Set where this is the invented studio. */
  sampleOf?: SampleOf | null;
  /** In PEM; plain HTTP is served where it is left out. */
  tls?: { cert: string; key: string } | undefined;
};

const SILENT: FastifyBaseLogger = pino({ level: 'silent' });
const BODY_BYTES_MAX = 1024 * 1024;
const REQUEST_MILLISECONDS_MAX = 30_000;
const REQUESTS_PER_MINUTE = 600;

// Scripts, styles and fonts come from this server only. /docs has a policy of its own.
const CONTENT_SECURITY = {
  useDefaults: false,
  directives: {
    defaultSrc: ["'self'"],
    imgSrc: ["'self'", 'data:'],
    objectSrc: ["'none'"],
    baseUri: ["'none'"],
    formAction: ["'self'"],
    frameAncestors: ["'none'"],
  },
};

/** Builds the API and the desk over a database; commands/serve.ts makes it listen. */
export async function buildApp(options: AppOptions) {
  const { db, now = () => new Date(), logger = SILENT, trustProxy = false, plainHttp = false, baseUrl, tls } = options;
  const { sampleStudio, sampleOf = null, renderer = inThisThread } = options;
  const limits = { requestTimeout: REQUEST_MILLISECONDS_MAX };
  const app = Fastify({
    loggerInstance: logger,
    trustProxy: typeof trustProxy === 'number' ? (_address, hop) => hop < trustProxy : trustProxy,
    bodyLimit: BODY_BYTES_MAX,
    return503OnClosing: false, // whoever got in is served; the framework's own refusal is none of our problems
    serverFactory: (answer) => (tls ? serveTls({ ...tls, ...limits }, answer) : servePlain(limits, answer)),
    logController: new LogController({ disableRequestLogging: true }), // log.ts says it in one line, without addresses
    frameworkErrors: (error, request, reply) => {
      answerError(error, request, reply);
      logAnswer(request, reply);
    },
    clientErrorHandler: answerClientError,
    genReqId: newId, // one that no earlier run has in its log
  }).withTypeProvider<ZodTypeProvider>();
  app.decorate('db', db);
  app.decorate('now', now);
  app.decorate('renderer', renderer);
  app.decorate('plainHttp', plainHttp);
  app.decorate('baseUrl', baseUrl);
  app.decorate('sampleStudio', sampleStudio);
  app.decorate('sampleOf', sampleOf);
  app.decorateRequest('caller', null);
  app.removeContentTypeParser('text/plain'); // a form of another site can send it unasked
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);

  logRequests(app);
  answerProblems(app);
  await app.register(helmet, { contentSecurityPolicy: CONTENT_SECURITY });
  await app.register(cookie);
  await app.register(rateLimit, {
    ...{ max: REQUESTS_PER_MINUTE, timeWindow: '1 minute' },
    // the files of the desk, which a browser asks for once and keeps: a page is made of dozens, and some devices share an address
    allowList: ({ url }) => url.startsWith('/assets/'),
  });
  guardRoutes(app);
  tagAnswers(app);
  compressAnswers(app);
  await describeApi(app);
  await app.register(healthRoutes);
  await app.register(problemPages);
  await app.register(studioRoutes, { prefix: '/api' });
  await app.register(deskRoutes);
  return app;
}

export type App = Awaited<ReturnType<typeof buildApp>>;
