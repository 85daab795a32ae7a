import { randomUUID } from 'node:crypto';
import { expect, test } from 'vitest';
import { purgeIdempotencyKeys } from '../../src/http/purge-idempotency-keys.js';
import { testApp } from '../support/app.js';

const { db, clock, owner } = await testApp();

test('a key is kept for two days, and its answer is forgotten after that', async () => {
  const key = randomUUID();
  const first = await owner.post('/api/people', { name: 'Ines Duval' }, key);
  await clock.set('2026-03-12T09:00:00Z');
  expect(await purgeIdempotencyKeys(db, clock.now())).toBe(0);
  expect((await owner.post('/api/people', { name: 'Ines Duval' }, key)).json()).toEqual(first.json());
  await clock.set('2026-03-12T09:00:01Z');
  expect(await purgeIdempotencyKeys(db, clock.now())).toBe(1);
  expect(await db.requestKey.count()).toBe(0);
  expect(await purgeIdempotencyKeys(db, clock.now())).toBe(0);
});
