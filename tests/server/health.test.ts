import { afterAll, expect, test } from 'vitest';
import { openDatabase } from '../../src/database/client.js';
import { buildApp } from '../../src/server/app.js';
import { testApp } from '../support/app.js';
import { lineTo } from '../support/line.js';

const { url, clock, ...staff } = await testApp();
const line = await lineTo(url);
const { db, close } = await openDatabase(line.url);
const app = await buildApp({ db, now: clock.now });
afterAll(async () => {
  await app.close();
  await close();
});
const owner = staff.owner.through(app);

test('with its database the server is up and ready', async () => {
  expect((await app.inject('/health')).json()).toEqual({ status: 'up' });
  expect((await app.inject('/ready')).json()).toEqual({ status: 'ready' });
});

test('while its database is away it is up and not ready, says so to everybody, and comes back by itself', async () => {
  expect((await owner.get('/api/people')).statusCode).toBe(200);
  await line.cut();
  expect((await app.inject('/health')).json()).toEqual({ status: 'up' });
  const answers = [
    await app.inject('/ready'),
    await owner.get('/api/people'),
    await owner.post('/api/people', { name: 'Ines Duval' }),
    await owner.get('/docs/'),
  ];
  for (const answer of answers) {
    expect(answer.headers['content-type']).toMatch(/^application\/problem\+json/);
    expect(answer.json()).toMatchObject({
      type: '/problems/database-away',
      status: 503,
      detail: expect.stringMatching(/again/),
      requestId: expect.any(String),
    });
    expect(answer.body).not.toMatch(/postgres|ECONN|127\.0\.0\.1|prisma/i);
  }
  await line.mend();
  expect((await app.inject('/ready')).json()).toEqual({ status: 'ready' });
  expect((await owner.get('/api/people')).json()).toEqual({ items: [], next: null, total: 0, totalIsMinimum: false });
});

test('a line that breaks in the middle of the work is a 503, and nothing is half written', async () => {
  const answers = [];
  for (let i = 0; i < 5; i++) {
    const sent = Array.from({ length: 5 }, () => owner.post('/api/people', { name: 'Ines Duval' }));
    await new Promise((resolve) => setTimeout(resolve, 5 * i));
    await line.cut();
    answers.push(...(await Promise.all(sent)));
    await line.mend();
  }
  expect([...new Set(answers.map((a) => a.statusCode))].every((status) => [201, 503].includes(status))).toBe(true);
  const acknowledged = answers.filter((a) => a.statusCode === 201).length;
  expect(await staff.db.person.count()).toBeGreaterThanOrEqual(acknowledged);
  expect(await staff.db.requestKey.count()).toBe(await staff.db.person.count());
});
