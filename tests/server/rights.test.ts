import { randomUUID } from 'node:crypto';
import Fastify from 'fastify';
import { describe, expect, test } from 'vitest';
import type { Database } from '../../src/database/transaction.js';
import { guardRoutes } from '../../src/server/rights.js';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import { elsewhere, type Operation, operations, somewhere } from '../support/operations.js';

const { app, db, clock, tutorMember } = await testApp();
const all = await operations(app);
const closed = all.filter(({ security }) => security.length > 0);
const unsafe = all.filter(({ method }) => method !== 'GET');
const tutorCookie = await signIn(db, clock.now(), { email: tutorMember.email, password: 'a long test password' });

/** Calls what the document names, as a browser on the desk would, but for what `changes` says. */
const call = ({ method, path }: Operation, changes: Record<string, string | undefined> = {}) => {
  const headers = { 'sec-fetch-site': 'same-origin', 'idempotency-key': `"${randomUUID()}"`, ...changes };
  const body = method === 'GET' ? {} : { payload: {} };
  const sent = Object.fromEntries(Object.entries(headers).filter(([, value]) => value !== undefined));
  return app.inject({ method, url: somewhere(path), headers: sent, remoteAddress: elsewhere(), ...body });
};
const asTutor = { cookie: `wareboard=${tutorCookie}` };

/** What a tutor is there for: registers, shelf, ware and kilns, and no money. */
const TUTORS = [
  ...['GET /api/tax-rates', 'GET /api/rooms', 'GET /api/me', 'POST /api/sign-out'],
  ...[
    'GET /api/tax-rates/{taxRateId}',
    'GET /api/rooms/{roomId}',
    'GET /api/schedules/{scheduleId}',
    'GET /api/search',
  ],
  ...['GET /api/boards/{boardId}', 'PUT /api/boards/{boardId}', 'POST /api/boards/{boardId}/removal'],
  ...['POST /api/sign-out/others', 'POST /api/password'],
  ...[
    'GET /api/people',
    'GET /api/people/{personId}',
    'GET /api/people/{personId}/guardians',
    'GET /api/people/{personId}/consents',
  ],
  ...['GET /api/materials', 'GET /api/materials/{materialId}', 'GET /api/materials/{materialId}/moves'],
  ...['POST /api/materials', 'POST /api/materials/{materialId}/draws', 'POST /api/materials/{materialId}/counts'],
  'PUT /api/materials/{materialId}',
  ...['GET /api/mixes', 'POST /api/mixes', 'GET /api/mixes/{mixId}', 'PUT /api/mixes/{mixId}'],
  ...['GET /api/mixes/{mixId}/batches', 'POST /api/mixes/{mixId}/batches', 'GET /api/mixes/{mixId}/batch-sheet.pdf'],
  ...['', '/labels.pdf'].map((it) => `GET /api/mix-batches/{batchId}${it}`),
  'POST /api/mix-batches/{batchId}/undoing',
  ...['GET /api/test-tiles', 'POST /api/test-tiles', 'GET /api/test-tiles/{tileId}', 'PUT /api/test-tiles/{tileId}'],
  ...['POST /api/test-tiles/{tileId}/photos', 'GET /api/test-tiles/{tileId}/photos/{photoId}'],
  'POST /api/test-tiles/{tileId}/photos/{photoId}/removal',
  ...['GET /api/imports/materials', 'GET /api/imports/materials.csv'],
  ...['POST /api/imports/materials', 'POST /api/imports/materials/check'],
  ...[
    'POST /api/sessions/{sessionId}/attendance',
    'GET /api/calendar-days',
    'GET /api/closures',
    'GET /api/closures/{closureId}',
    'GET /api/courses',
    'GET /api/courses/{courseId}/dates',
    'GET /api/courses/{courseId}/care-notes',
    'GET /api/courses/{courseId}/particulars',
    'GET /api/courses/{courseId}/changes',
    'GET /api/courses/{courseId}/draws',
    'GET /api/courses/{courseId}/reclaims',
    'GET /api/courses/{courseId}/register',
    'POST /api/courses/{courseId}/draws',
    'POST /api/courses/{courseId}/reclaims',
  ],
  ...['GET /api/outlook', 'GET /api/kilns', 'GET /api/kiln-fills', 'GET /api/schedules', 'GET /api/today'],
  ...['GET /api/pieces', 'GET /api/pieces/{id}', 'GET /api/pieces/by-code/{code}', 'POST /api/pieces'],
  ...[
    'POST /api/pieces/stage',
    'POST /api/pieces/giving-away',
    'POST /api/pieces/washing-off',
    'POST /api/pieces/{id}/glazes',
    'POST /api/pieces/{id}/draws',
    'GET /api/boards',
    'POST /api/boards',
  ],
  ...['POST /api/boards/{boardId}/stage', 'GET /api/firings', 'GET /api/firings/{firingId}', 'POST /api/firings'],
  ...['plan', 'loading', 'start', 'readings', 'unloading', 'failure'].map((it) => `POST /api/firings/{firingId}/${it}`),
];

describe('whoever is signed out', () => {
  test.each(closed.map((operation) => [operation.name, operation] as const))('is refused %s', async (_, operation) => {
    for (const cookie of [undefined, 'wareboard=', 'wareboard=a-token-that-nobody-was-given', '__Host-wareboard=x']) {
      const answer = await call(operation, { cookie });
      expect(answer.statusCode).toBe(401);
      expect(answer.headers['content-type']).toMatch(/^application\/problem\+json/);
      expect(answer.json()).toEqual({
        type: '/problems/signed-out',
        title: expect.any(String),
        status: 401,
        detail: expect.stringMatching(/sign in/i),
        requestId: expect.any(String),
      });
    }
  });
});

test('a tutor may do what tutors do, and nothing else', async () => {
  const allowed: string[] = [];
  for (const operation of closed) {
    const answer = await call(operation, asTutor);
    if (operation.path === '/api/sign-out') asTutor.cookie = `wareboard=${await newCookie()}`;
    if (answer.statusCode !== 403) allowed.push(operation.name);
    else expect(answer.json(), operation.name).toMatchObject({ type: '/problems/not-allowed', status: 403 });
  }
  expect(allowed.sort()).toEqual(TUTORS.sort());
});

test('whatever changes something takes a right to change', () => {
  const asked = unsafe.map(({ name, security }) => [name, security.flatMap((way) => Object.values(way).flat())]);
  expect(asked.filter(([, rights]) => rights?.includes('planning:write')).map(([name]) => name)).toEqual([
    'POST /api/courses/{courseId}/price-quotes',
  ]);
  for (const [name, rights = []] of asked)
    for (const right of rights) expect(right, String(name)).not.toMatch(/:read$/);
});

test('a tutor is shown no money', () => {
  const { components } = app.swagger() as { components: { schemas: Record<string, unknown> } };
  const named = (schema: unknown, seen = new Set<string>()): string[] => {
    const text = JSON.stringify(schema ?? {});
    const names = [...text.matchAll(/"(\w+)":/g)].map(([, name]) => name ?? '');
    const further = [...text.matchAll(/#\/components\/schemas\/(\w+)/g)].map(([, name]) => name ?? '');
    const fresh = further.filter((name) => name !== 'Problem' && !seen.has(name));
    for (const name of fresh) seen.add(name);
    return [...names, ...fresh.flatMap((name) => named(components.schemas[name], seen))];
  };
  const money = (operation: Operation) => named(operation.responses).filter((name) => /Minor$/.test(name));
  // what is money in them is null for a tutor: tests/studio/reports/money.test.ts and search.test.ts
  const mixed = ['GET /api/today', 'GET /api/search'];
  const shown = closed
    .filter(({ name }) => TUTORS.includes(name) && !mixed.includes(name))
    .map((o) => [o.name, money(o)] as const);
  expect(shown.filter(([, names]) => names.length > 0)).toEqual([]);
  expect(money(all.find(({ name }) => name === 'GET /api/debtors') as Operation)).toContain('owedMinor');
});

const newCookie = () => signIn(db, clock.now(), { email: tutorMember.email, password: 'a long test password' });

describe('a page of another site', () => {
  test.each([
    ['another site', { 'sec-fetch-site': 'cross-site' }],
    ['a neighbour under the same domain', { 'sec-fetch-site': 'same-site' }],
    [
      'another origin, from a browser that says no more',
      { 'sec-fetch-site': undefined, origin: 'https://else.example' },
    ],
    ['the same host on another port', { 'sec-fetch-site': undefined, origin: 'http://localhost:81' }],
    ['nowhere known', { 'sec-fetch-site': undefined, origin: 'null' }],
    ['a client that says nothing at all', { 'sec-fetch-site': undefined }],
    ['a cross-site page that forges Origin', { 'sec-fetch-site': 'cross-site', origin: 'http://localhost:80' }],
  ])('changes nothing: %s', async (_, headers) => {
    for (const operation of unsafe) {
      const answer = await call(operation, { cookie: asTutor.cookie, ...headers });
      expect(answer.json(), operation.name).toMatchObject({ type: '/problems/cross-site', status: 403 });
    }
  });

  test.each([
    ['the desk itself', { 'sec-fetch-site': 'same-origin' }],
    ['the address bar or a script that says so', { 'sec-fetch-site': 'none' }],
    [
      'the same origin, from an old browser',
      { 'sec-fetch-site': undefined, origin: 'http://localhost', host: 'localhost' },
    ],
  ])('is told from %s', async (_, headers) => {
    const answer = await call({ method: 'POST', path: '/api/sign-in' } as Operation, headers);
    expect(answer.statusCode).toBe(422); // past the door; the body is empty
  });

  test('may link here: reading is not refused', async () => {
    const answer = await call({ method: 'GET', path: '/api/me' } as Operation, {
      ...asTutor,
      'sec-fetch-site': 'cross-site',
    });
    expect(answer.statusCode).toBe(200);
  });
});

describe('a route without a right', () => {
  const guarded = () => {
    const fastify = Fastify();
    fastify.decorate('db', null as unknown as Database);
    fastify.decorate('now', () => new Date());
    guardRoutes(fastify);
    return fastify;
  };

  test('does not start', async () => {
    const fastify = guarded();
    fastify.get('/open', () => 'anything');
    await expect(fastify.ready()).rejects.toThrow('GET /open declares no right.');
  });

  test('does not start inside a plugin either, and one with a right does', async () => {
    const planted = guarded();
    planted.register(async (inner) => void inner.post('/deep', { config: {} }, () => 'anything'), { prefix: '/api' });
    await expect(planted.ready()).rejects.toThrow('POST /api/deep declares no right.');
    const sound = guarded();
    sound.get('/said', { config: { right: 'public' } }, () => 'anything');
    await sound.ready();
    await sound.close();
  });
});
