import { expect, test } from 'vitest';
import { openDatabase } from '../../../src/database/client.js';
import { inTransaction } from '../../../src/database/transaction.js';
import { buildApp } from '../../../src/server/app.js';
import { newSetUpToken } from '../../../src/studio/staff/service.js';
import { cloneTemplate } from '../../support/database.js';
import { elsewhere } from '../../support/operations.js';

/** A server over an empty database, whose clock a test sets. */
async function emptyStudio() {
  const { db, close } = await openDatabase(await cloneTemplate());
  const clock = { time: new Date('2026-03-10T09:00:00Z') };
  const app = await buildApp({ db, now: () => clock.time });
  const setUp = (changes: object = {}) =>
    app.inject({
      method: 'POST',
      url: '/api/set-up',
      headers: { 'sec-fetch-site': 'same-origin' },
      remoteAddress: elsewhere(),
      payload: { name: 'Mara Lind', email: 'Mara@Alderlane.example', password: 'a long password', ...changes },
    });
  const link = () => inTransaction(db, (tx) => newSetUpToken(tx, clock.time));
  const done = async () => {
    await app.close();
    await close();
  };
  return { db, clock, setUp, link, done };
}

test('the set-up link makes one owner, once', async () => {
  const { db, setUp, link, done } = await emptyStudio();
  const token = await link();
  const answer = await setUp({ token });
  expect(answer.statusCode).toBe(201);
  expect(answer.json()).toMatchObject({ role: 'owner', email: 'mara@alderlane.example' });
  expect((await setUp({ token, email: 'other@example.org' })).json()).toMatchObject({
    type: '/problems/set-up-done',
    status: 409,
  });
  expect(await db.staffMember.count()).toBe(1);
  expect(await link()).toBeNull();
  const { passwordHash } = await db.staffMember.findFirstOrThrow();
  expect(passwordHash).toMatch(/^\$argon2id\$v=19\$m=19456,t=3,p=1\$/); // OWASP's cheat sheet: 19 MiB, two passes at least
  expect(JSON.stringify(await db.setUpLink.findMany())).not.toContain(token);
  await done();
});

test('it ends after a day, and where a later one was printed', async () => {
  const { db, clock, setUp, link, done } = await emptyStudio();
  const earlier = await link();
  const token = await link();
  const gone = { type: '/problems/not-found', detail: expect.stringContaining('Start the server again') };
  expect((await setUp({ token: earlier })).json()).toMatchObject(gone);
  expect((await setUp({ token: 'a-token-that-nobody-printed' })).json()).toMatchObject(gone);
  clock.time = new Date('2026-03-11T09:00:00Z');
  expect((await setUp({ token })).json()).toMatchObject(gone);
  expect(await db.staffMember.count()).toBe(0);
  clock.time = new Date('2026-03-11T08:59:59Z');
  expect((await setUp({ token })).statusCode).toBe(201);
  await done();
});

test('of many who open it at once, one becomes the owner', async () => {
  const { db, setUp, link, done } = await emptyStudio();
  const token = await link();
  const answers = await Promise.all(
    Array.from({ length: 8 }, (_, i) => setUp({ token, email: `owner${i}@example.org` })),
  );
  expect(answers.map((a) => a.statusCode).filter((status) => status === 201)).toHaveLength(1);
  expect(answers.every((a) => [201, 404, 409].includes(a.statusCode))).toBe(true);
  expect(await db.staffMember.count()).toBe(1);
  await done();
});

test.each([
  ['a short password', { password: 'too short' }, '#/password'],
  ['a name that paper cannot show', { name: '北野' }, '#/name'],
  ['no address', { email: 'mara' }, '#/email'],
])('it refuses %s, and can be used again', async (_, changes, pointer) => {
  const { setUp, link, done } = await emptyStudio();
  const token = await link();
  const answer = await setUp({ token, ...changes });
  expect(answer.json()).toMatchObject({ status: 422, errors: [{ pointer }] });
  expect((await setUp({ token })).statusCode).toBe(201);
  await done();
});
