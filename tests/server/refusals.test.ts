import { randomUUID } from 'node:crypto';
import { type AddressInfo, connect } from 'node:net';
import { describe, expect, test } from 'vitest';
import { describeProblem } from '../../src/problems.js';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import { elsewhere, type Operation, operations, somewhere } from '../support/operations.js';

const { app, db, clock, owner, ownerMember } = await testApp();
const all = await operations(app);
const cookie = await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' });
const headers = { cookie: `wareboard=${cookie}`, 'sec-fetch-site': 'same-origin' };
const key = () => ({ 'idempotency-key': `"${randomUUID()}"` });
const keyed = all.filter(({ parameters }) => parameters.some((p) => p.name.toLowerCase() === 'idempotency-key'));
const send = ({ method, path }: Operation, payload: unknown, more: object = key()) =>
  app.inject({
    method,
    url: somewhere(path),
    payload: payload as object,
    headers: { ...headers, ...more },
    remoteAddress: elsewhere(),
  });

/** A refusal as RFC 9457 has it, with our request id: its type leads to a page that gives the same title and status. */
async function expectProblem(answer: Awaited<ReturnType<typeof send>>, type: string, status: number) {
  expect(answer.headers['content-type']).toMatch(/^application\/problem\+json/);
  expect(answer.statusCode).toBe(status);
  const body = answer.json();
  expect(body).toMatchObject({ type: `/problems/${type}`, status, requestId: expect.stringMatching(/^.+$/) });
  expect(body.title).toBe(describeProblem(type)?.title);
  expect(body.detail).toMatch(/\w.*\.$|\?$/);
  expect((await app.inject({ url: body.type, remoteAddress: elsewhere() })).json()).toEqual({
    type: body.type,
    title: body.title,
    status,
  });
  return body;
}

describe('every route that takes a body', () => {
  test.each(all.filter((o) => o.body).map((o) => [o.name, o] as const))(
    'refuses what it does not know: %s',
    async (_, o) => {
      const answer = await send(o, { colourOfTheDoor: 'blue' });
      const { errors } = await expectProblem(answer, 'invalid-request', 422);
      expect(errors).toContainEqual({ pointer: '#/colourOfTheDoor', detail: 'is not a field of this request' });
      for (const { pointer } of errors) expect(pointer).toMatch(/^#(\/|$)/);
    },
  );

  test.each(all.filter((o) => o.body).map((o) => [o.name, o] as const))(
    'refuses what is no object: %s',
    async (_, o) => {
      for (const payload of ['[]', 'null', '"clay"', '7'])
        await expectProblem(
          await send(o, payload, { ...key(), 'content-type': 'application/json' }),
          'invalid-request',
          422,
        );
    },
  );
});

/** A body of a route that takes no JSON, and its kind. */
function rawBody({ path }: Operation): [kind: string, body: string | Buffer] | undefined {
  if (path.startsWith('/api/imports/')) return ['text/csv', 'name'];
  if (path.endsWith('/photos') || path === '/api/studio/logo')
    return ['image/png', Buffer.from('\x89PNG\r\n\x1a\n', 'latin1')];
  return undefined;
}

describe('every route that changes something', () => {
  test.each(keyed.map((o) => [o.name, o] as const))('wants a key: %s', async (_, o) => {
    for (const more of [
      {},
      { 'idempotency-key': '' },
      { 'idempotency-key': '"short"' },
      { 'idempotency-key': 'x'.repeat(300) },
    ]) {
      const [kind, raw] = rawBody(o) ?? [];
      const answer = kind ? await send(o, raw, { ...more, 'content-type': kind }) : await send(o, {}, more);
      expect([400, 422], `${answer.body}`).toContain(answer.statusCode); // a body that is wrong is told first
      if (answer.statusCode === 400) await expectProblem(answer, 'key-required', 400);
    }
  });

  test('a good body without a key has no effect', async () => {
    const route = keyed.find(({ name }) => name === 'POST /api/people') as Operation;
    await expectProblem(await send(route, { name: 'Ines Duval' }, {}), 'key-required', 400);
    expect(await db.person.count()).toBe(0);
  });
});

describe('every route that names something in its address', () => {
  const named = all.filter(({ parameters }) => parameters.some((p) => p.in === 'path'));

  test.each(named.map((o) => [o.name, o] as const))('refuses what is no id: %s', async (_, o) => {
    const url = o.path.replace(/\{\w+\}/g, 'the%20blue%20one');
    const answer = await app.inject({
      method: o.method,
      url,
      headers: { ...headers, ...key() },
      remoteAddress: elsewhere(),
    });
    expect([404, 422], answer.body).toContain(answer.statusCode);
    expect(answer.json()).toMatchObject({ type: expect.stringMatching(/not-found|invalid-request/) });
    expect(Object.keys(o.responses)).toContain(`${answer.statusCode}`);
  });

  test.each(named.filter((o) => o.method === 'GET').map((o) => [o.name, o] as const))(
    'finds nothing: %s',
    async (_, o) => {
      const url = `${somewhere(o.path)}${o.path.endsWith('/batch-sheet.pdf') ? '?makeGrams=1000' : ''}`;
      const answer = await app.inject({ url, headers, remoteAddress: elsewhere() });
      expect(answer.statusCode, answer.body).toBe(404);
      await expectProblem(answer, 'not-found', 404);
    },
  );
});

describe('what is no request to any route', () => {
  test('an address at which nothing is', async () => {
    const urls = [
      '/api/unicorns',
      '/api',
      '/api/',
      '/api/me/',
      '/nothing',
      '/problems/unheard-of',
      '/.env',
      '//',
      '/%00',
    ];
    for (const url of urls) await expectProblem(await owner.get(url), 'not-found', 404);
  });

  test('a method that an address does not take', async () => {
    const answer = await app.inject({ method: 'DELETE', url: '/api/people?limit=1', headers });
    const { detail } = await expectProblem(answer, 'method-not-allowed', 405);
    expect(answer.headers.allow).toBe('GET, HEAD, POST');
    expect(detail).toContain('GET, HEAD, POST');
    expect((await app.inject({ method: 'PATCH', url: `/api/people/${randomUUID()}` })).headers.allow).toBe(
      'GET, HEAD, PUT',
    );
    expect((await app.inject({ method: 'POST', url: '/health' })).headers.allow).toBe('GET, HEAD');
  });

  test('a body that is too large', async () => {
    const payload = JSON.stringify({ name: 'x'.repeat(1024 * 1024) });
    const json = { 'content-type': 'application/json', ...key() };
    const answer = await app.inject({ method: 'POST', url: '/api/people', payload, headers: { ...headers, ...json } });
    await expectProblem(answer, 'too-large', 413);
  });

  test.each(['text/plain', 'application/xml', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x'])(
    'a body in %s',
    async (type) => {
      const more = { 'content-type': type, ...key() };
      const answer = await app.inject({
        method: 'POST',
        url: '/api/people',
        payload: 'name=x',
        headers: { ...headers, ...more },
      });
      await expectProblem(answer, 'wrong-media-type', 415);
    },
  );

  test.each([
    '{',
    '',
    '{"name": "x",}',
    'not json',
    '{"__proto__": {"owner": true}}',
    '{"constructor": {"prototype": {}}}',
  ])('a body that is no JSON: %s', async (payload) => {
    const more = { 'content-type': 'application/json', ...key() };
    const answer = await app.inject({ method: 'POST', url: '/api/people', payload, headers: { ...headers, ...more } });
    await expectProblem(answer, 'malformed', 400);
  });

  test('an address that cannot be read, or is too long', async () => {
    await expectProblem(await owner.get('/api/people/%zz'), 'malformed', 400);
    await expectProblem(await owner.get('/%c0%af'), 'malformed', 400);
    await expectProblem(await owner.get(`/api/people/${'x'.repeat(5000)}`), 'address-too-long', 414);
  });
});

describe('too many requests', () => {
  const guess = (remoteAddress: string) =>
    app.inject({
      method: 'POST',
      url: '/api/sign-in',
      headers: { 'sec-fetch-site': 'same-origin' },
      payload: { email: 'owner@example.org', password: 'a guess' },
      remoteAddress,
    });

  test('guessing a password ends after ten tries, and nobody else is kept out', async () => {
    const [here, there] = [elsewhere(), elsewhere()];
    for (let i = 0; i < 10; i++) await expectProblem(await guess(here), 'wrong-password', 401);
    const answer = await guess(here);
    await expectProblem(answer, 'too-many-requests', 429);
    expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0);
    expect(Number(answer.headers['retry-after'])).toBeLessThanOrEqual(300);
    expect((await guess(there)).statusCode).toBe(401);
  });

  test('six hundred a minute from one address are enough, except to ask whether the server is well and for files of the desk', async () => {
    const here = elsewhere();
    const ask = (url: string) => app.inject({ url, headers, remoteAddress: here });
    for (let i = 0; i < 600; i++) expect((await ask('/problems/malformed')).statusCode).toBe(200);
    await expectProblem(await ask('/problems/malformed'), 'too-many-requests', 429);
    expect((await ask('/health')).statusCode).toBe(200);
    expect((await ask('/assets/none.js')).statusCode).toBe(404); // nor is a page of the desk left half loaded
  });
});

describe('requests that are refused', () => {
  const knock = (remoteAddress: string, url = '/api/people') => app.inject({ url, remoteAddress });

  test('count as well: whoever guesses at a session or a token is stopped', async () => {
    const here = elsewhere();
    for (let i = 0; i < 600; i++) expect((await knock(here)).statusCode).toBe(401);
    await expectProblem(await knock(here), 'too-many-requests', 429);
    await expectProblem(await knock(here, '/openapi.json'), 'too-many-requests', 429);
    expect((await knock(elsewhere())).statusCode).toBe(401);
  });
});

describe('what is no HTTP at all', () => {
  test.each([
    [
      'a header that never ends',
      `GET / HTTP/1.1\r\nHost: x\r\nCookie: ${'x'.repeat(20_000)}\r\n\r\n`,
      'header-too-large',
      431,
    ],
    ['another language', 'EHLO kiln\r\n\r\n', 'malformed', 400],
    ['two lengths', 'POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\nxx', 'malformed', 400],
  ])('%s', async (_, sent, type, status) => {
    const answer = await overSocket(sent);
    expect(answer).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
    expect(answer).toContain('Content-Type: application/problem+json');
    const body = JSON.parse(answer.split('\r\n\r\n')[1] ?? '');
    expect(body).toMatchObject({ type: `/problems/${type}`, status, requestId: expect.any(String) });
  });
});

/** Sends these bytes to the listening server. @returns all that it answers */
async function overSocket(sent: string): Promise<string> {
  if (!app.server.listening) await app.listen({ host: '127.0.0.1', port: 0 });
  const socket = connect((app.server.address() as AddressInfo).port, '127.0.0.1');
  socket.write(sent);
  let answer = '';
  for await (const bytes of socket) answer += bytes;
  return answer;
}
