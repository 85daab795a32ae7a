import { randomUUID } from 'node:crypto';
import { pino } from 'pino';
import { afterAll, beforeEach, expect, test } from 'vitest';
import { buildApp } from '../../src/server/app.js';
import { testApp } from '../support/app.js';

const { db, clock, owner } = await testApp();
const lines: Record<string, unknown>[] = [];
const logger = pino({ level: 'trace' }, { write: (line) => void lines.push(JSON.parse(line)) });
const app = await buildApp({ db, now: clock.now, logger });
afterAll(() => app.close());
const logged = owner.through(app);
beforeEach(() => void lines.splice(0));

const PRIVATE = /Zuleika|zuleika|Quince|07700|hunter2|wareboard=|10\.9\.8\.7/;

test('each request is one line: its id, the route, how it went', async () => {
  const answer = await logged.get(`/api/people/${randomUUID()}`);
  expect(lines).toEqual([
    {
      level: 30,
      time: expect.any(Number),
      pid: expect.any(Number),
      hostname: expect.any(String),
      reqId: answer.json().requestId,
      method: 'GET',
      route: '/api/people/:personId',
      status: 404,
      milliseconds: expect.any(Number),
      msg: 'answered',
    },
  ]);
});

test('whatever people send, nothing of them is logged', async () => {
  const person = { name: 'Zuleika Quince', email: 'zuleika@example.org', phone: '07700 900123' };
  expect((await logged.post('/api/people', person)).statusCode).toBe(201);
  expect((await logged.post('/api/people', { ...person, extra: 'Zuleika' })).statusCode).toBe(422);
  expect((await logged.get('/api/people?q=Zuleika')).json().items).toHaveLength(1);
  expect((await logged.get('/api/people?limit=Zuleika')).statusCode).toBe(422);
  expect((await logged.get('/api/nobody/Zuleika?name=Quince')).statusCode).toBe(404);
  expect((await logged.get('/api/people/Zuleika%zz')).statusCode).toBe(400);
  const credentials = { email: 'zuleika@example.org', password: 'hunter2 hunter2' };
  expect((await logged.post('/api/sign-in', credentials)).statusCode).toBe(401);
  const headers = {
    'content-type': 'application/json',
    'sec-fetch-site': 'same-origin',
    'x-forwarded-for': '10.9.8.7',
  };
  const broken = { method: 'POST' as const, url: '/api/sign-in', headers, payload: '{"email": "Zuleika' };
  expect((await app.inject({ ...broken, remoteAddress: '10.9.8.7' })).statusCode).toBe(400);
  expect(lines).toHaveLength(8);
  expect(lines.filter((line) => PRIVATE.test(JSON.stringify(line)))).toEqual([]);
});

test('a fault of ours is logged with its trace under the id that the person is shown, without what was sent', async () => {
  const planted = { query: { $allOperations: () => Promise.reject(new Error('planted fault')) } };
  const faulty = await buildApp({ db: db.$extends(planted) as never, now: clock.now, logger });
  const answer = await faulty.inject({
    method: 'POST',
    url: '/api/sign-in',
    headers: { 'sec-fetch-site': 'same-origin' },
    payload: { email: 'zuleika@example.org', password: 'hunter2 hunter2' },
  });
  await faulty.close();
  expect(answer.statusCode).toBe(500);
  const body = answer.json();
  expect(body).toMatchObject({
    type: '/problems/unexpected',
    detail: expect.stringContaining('number of this request'),
  });
  expect(answer.body).not.toContain('planted');
  const [fault] = lines.filter(({ level }) => level === 50);
  expect(fault).toMatchObject({ reqId: body.requestId, err: { message: 'planted fault', stack: expect.any(String) } });
  expect(JSON.stringify(lines)).not.toMatch(PRIVATE);
});

test.each([
  ['a value that must not be missing', 'new.address_lines := NULL; RETURN new'],
  ['a value that is too much for its column', "RAISE EXCEPTION 'planted' USING ERRCODE = 'P0001', DETAIL = new.name"],
])('what the database refuses and nobody foresaw is logged without the row: %s', async (_, work) => {
  await db.$executeRawUnsafe(
    `CREATE OR REPLACE FUNCTION planted() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN ${work}; END $$`,
  );
  await db.$executeRaw`CREATE TRIGGER planted BEFORE INSERT ON person FOR EACH ROW EXECUTE FUNCTION planted()`;
  const answer = await logged.post('/api/people', { name: 'Zuleika Quince' });
  await db.$executeRaw`DROP TRIGGER planted ON person`;
  expect(answer.statusCode).toBe(500);
  expect(lines.find(({ level }) => level === 50)).toMatchObject({ reqId: answer.json().requestId });
  expect(answer.body).not.toMatch(PRIVATE);
  expect(JSON.stringify(lines)).not.toMatch(PRIVATE);
});
