import { createHash, randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { buildApp } from '../../../src/server/app.js';
import { signIn } from '../../../src/studio/staff/sign-in.js';
import { testApp } from '../../support/app.js';
import { elsewhere } from '../../support/operations.js';

const { app, db, clock, owner, ownerMember } = await testApp();
const tokenIn = (answer: { linkAddress: string }) => new URL(answer.linkAddress).hash.slice(1);

async function linkFor(changes: object = {}) {
  const wanted = { name: 'Ossian Vey', email: `${randomUUID()}@alderlane.example`, role: 'tutor', ...changes };
  const answer = (await owner.post('/api/staff', wanted)).json();
  return { id: answer.id as string, email: answer.email as string, token: tokenIn(answer) };
}
const send = (url: string, payload: object, { cookie = '', key = randomUUID(), through = app, headers = {} } = {}) =>
  through.inject({
    ...{ method: 'POST', url, payload, remoteAddress: elsewhere() },
    headers: { cookie, 'sec-fetch-site': 'same-origin', 'idempotency-key': `"${key}"`, ...headers },
  });
const use = (token: string, password: string, more = {}) => send('/api/password-link/use', { token, password }, more);
const signedIn = async (email: string, password: string) =>
  `wareboard=${await signIn(db, clock.now(), { email, password })}`;
const me = (cookie: string) => app.inject({ url: '/api/me', headers: { cookie }, remoteAddress: elsewhere() });
const GONE = { type: '/problems/not-found', status: 404, detail: expect.stringContaining('does not work any more') };

describe('a link', () => {
  test('says whose it is, sets the password once, and lets in by it', async () => {
    const { token, email, id } = await linkFor();
    const opened = await send('/api/password-link', { token });
    expect(opened.json()).toEqual({
      ...{ name: 'Ossian Vey', email, role: 'tutor', purpose: 'invitation', studioName: null },
      expiresAt: '2026-03-17T09:00:00.000Z',
    });
    await expect(signedIn(email, 'wheel and kiln')).rejects.toThrow(/Check both/);
    const key = randomUUID();
    const answer = await use(token, 'wheel and kiln', { key });
    expect([answer.statusCode, answer.json()]).toEqual([200, { id, name: 'Ossian Vey', email, role: 'tutor' }]);
    expect((await me(await signedIn(email, 'wheel and kiln'))).json()).toMatchObject({ id, role: 'tutor' });
    expect((await use(token, 'wheel and kiln', { key })).json()).toEqual(answer.json()); // the answer was lost on the way
    expect((await use(token, 'another password')).json()).toMatchObject(GONE);
    expect((await send('/api/password-link', { token })).json()).toMatchObject(GONE);
    await signedIn(email, 'wheel and kiln'); // the second try changed nothing
    const { items } = (await owner.get('/api/staff')).json();
    expect(items.find((one: { id: string }) => one.id === id)).toMatchObject({ state: 'active', passwordLink: null });
  });

  test('of many who open it at once, one sets the password', async () => {
    const { token, email } = await linkFor();
    const answers = await Promise.all(Array.from({ length: 6 }, (_, i) => use(token, `the password of ${i}`)));
    const won = answers.flatMap(({ statusCode }, i) => (statusCode === 200 ? [i] : []));
    expect(won).toHaveLength(1);
    expect(answers.filter(({ statusCode }) => statusCode === 404)).toHaveLength(5);
    for (let i = 0; i < 6; i++) {
      const entered = await signedIn(email, `the password of ${i}`).then(
        () => true,
        () => false,
      );
      expect(entered).toBe(won.includes(i));
    }
  });

  test('ends after a week, or a day where it is for a new password; a fresh one ends the one before', async () => {
    const { id, token, email } = await linkFor();
    const entry = async () => (await owner.get('/api/staff')).json().items.find((one: { id: string }) => one.id === id);
    await clock.set('2026-03-17T09:00:00Z');
    expect((await use(token, 'wheel and kiln')).json()).toMatchObject(GONE);
    expect((await entry()).passwordLink).toMatchObject({ works: false });
    const renewed = (await owner.post(`/api/staff/${id}/password-link`)).json();
    expect(renewed).toMatchObject({ state: 'invited', passwordLink: { purpose: 'invitation', works: true } });
    expect((await use(token, 'wheel and kiln')).json()).toMatchObject(GONE);
    await clock.set('2026-03-24T08:59:59Z');
    expect((await use(tokenIn(renewed), 'wheel and kiln')).statusCode).toBe(200);

    const phone = await signedIn(email, 'wheel and kiln');
    const lost = (await owner.post(`/api/staff/${id}/password-link`)).json();
    expect(lost.passwordLink).toMatchObject({ purpose: 'password', expiresAt: '2026-03-25T08:59:59.000Z' });
    expect((await me(phone)).statusCode).toBe(200); // nothing changes until it is used
    await clock.set('2026-03-25T08:59:59Z');
    expect((await use(tokenIn(lost), 'a second password')).json()).toMatchObject(GONE);
    await clock.set('2026-03-25T08:59:58Z');
    expect((await use(tokenIn(lost), 'a second password')).statusCode).toBe(200);
    expect((await me(phone)).statusCode).toBe(401);
    await expect(signedIn(email, 'wheel and kiln')).rejects.toThrow(/Check both/);
    await clock.set('2026-03-10T09:00:00Z');
  });

  test('refuses a short password and can be used again; no guess tells anything', async () => {
    const { token } = await linkFor();
    expect((await use(token, 'too short')).json()).toMatchObject({ status: 422, errors: [{ pointer: '#/password' }] });
    expect((await use(token, 'long enough now')).statusCode).toBe(200);
    for (const guess of [token, 'x'.repeat(43)]) {
      const { requestId: _, ...told } = (await send('/api/password-link', { token: guess })).json();
      expect(told).toMatchObject(GONE);
    }
  });

  test('is not opened over plain HTTP from another machine', async () => {
    const { token } = await linkFor();
    const headers = { host: 'studio.example' };
    for (const answer of [
      await send('/api/password-link', { token }, { headers }),
      await use(token, 'long enough now', { headers }),
    ])
      expect(answer.json()).toMatchObject({ type: '/problems/readable-on-the-way', status: 403 });
    expect((await use(token, 'long enough now')).statusCode).toBe(200);
  });

  test('is tried at most ten times in five minutes from one address', async () => {
    const remoteAddress = '10.9.9.9';
    const headers = { 'sec-fetch-site': 'same-origin' };
    const payload = { token: 'x'.repeat(43) };
    const guess = () => app.inject({ method: 'POST', url: '/api/password-link', payload, headers, remoteAddress });
    const told = [];
    for (let i = 0; i < 12; i++) told.push((await guess()).statusCode);
    expect(told).toEqual([...Array(10).fill(404), 429, 429]);
  });

  test('names the address that the studio was given, else the one that was opened', async () => {
    const named = await buildApp({ db, now: clock.now, baseUrl: 'https://studio.example' });
    const wanted = { name: 'Ines Roe', email: 'ines@alderlane.example', role: 'tutor' };
    const { linkAddress, opensHereOnly } = (await owner.through(named).post('/api/staff', wanted)).json();
    expect(linkAddress).toMatch(/^https:\/\/studio\.example\/password#/);
    expect(opensHereOnly).toBe(false);
    await named.close();
  });
});

describe('one’s own password', () => {
  const change = (cookie: string, body: object, more = {}) => send('/api/password', body, { cookie, ...more });
  const joined = async () => {
    const { token, email } = await linkFor();
    await use(token, 'the first of mine');
    return email;
  };

  test('is changed with the old one; sessions elsewhere end, this one goes on', async () => {
    const email = await joined();
    const [here, phone] = [await signedIn(email, 'the first of mine'), await signedIn(email, 'the first of mine')];
    const key = randomUUID();
    const body = { currentPassword: 'the first of mine', password: 'the second of mine' };
    const answer = await change(here, body, { key });
    expect([answer.statusCode, answer.json()]).toEqual([200, { sessionsEnded: 1 }]);
    expect([(await me(here)).statusCode, (await me(phone)).statusCode]).toEqual([200, 401]);
    await expect(signedIn(email, 'the first of mine')).rejects.toThrow(/Check both/);
    const again = await signedIn(email, 'the second of mine');
    expect((await change(here, body, { key })).json()).toEqual({ sessionsEnded: 1 }); // sent again: one effect
    expect((await me(again)).statusCode).toBe(200);
  });

  test('stays with a wrong old one, and says at which field', async () => {
    const email = await joined();
    const here = await signedIn(email, 'the first of mine');
    const phone = await signedIn(email, 'the first of mine');
    const wrong = await change(here, { currentPassword: 'a guess', password: 'the second of mine' });
    expect(wrong.json()).toMatchObject({
      ...{ type: '/problems/invalid-request', status: 422 },
      errors: [{ pointer: '#/currentPassword', detail: 'This is not your password. Try again.' }],
    });
    const short = await change(here, { currentPassword: 'the first of mine', password: 'short' });
    expect(short.json()).toMatchObject({ status: 422, errors: [{ pointer: '#/password' }] });
    expect((await me(phone)).statusCode).toBe(200);
    await signedIn(email, 'the first of mine');
  });

  test('ends a link that was to set another, and is no matter for scripts', async () => {
    const email = await joined();
    const here = await signedIn(email, 'the first of mine');
    const { id } = (await me(here)).json();
    const link = (await owner.post(`/api/staff/${id}/password-link`)).json();
    await change(here, { currentPassword: 'the first of mine', password: 'the second of mine' });
    expect((await use(tokenIn(link), 'the third of all')).statusCode).toBe(404);

    const { token } = (
      await owner.post('/api/tokens', { name: 'A script', rights: ['people:read'], lastDay: '2026-12-31' })
    ).json();
    const headers = { authorization: `Bearer ${token}` };
    const body = { currentPassword: 'a long test password', password: 'the second of mine' };
    expect((await send('/api/password', body, { headers })).json()).toMatchObject({ type: '/problems/not-allowed' });
    expect((await send('/api/sign-out/others', {}, { headers })).json()).toMatchObject({
      type: '/problems/not-allowed',
    });
  });

  test('two changes at once: one counts', async () => {
    const email = await joined();
    const here = await signedIn(email, 'the first of mine');
    const answers = await Promise.all(
      ['of the phone', 'of the bench'].map((whose) =>
        change(here, { currentPassword: 'the first of mine', password: `the password ${whose}` }),
      ),
    );
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([200, 422]);
  });

  test('signing in with the old one, at the moment it is changed, opens nothing that lasts', async () => {
    for (let round = 0; round < 5; round++) {
      const email = await joined();
      const here = await signedIn(email, 'the first of mine');
      const [, entered] = await Promise.all([
        change(here, { currentPassword: 'the first of mine', password: 'the second of mine' }),
        signedIn(email, 'the first of mine').catch(() => undefined),
      ]);
      if (entered) expect((await me(entered)).statusCode).toBe(401);
    }
  });

  test('is kept nowhere in clear, nor so that it can be guessed at fast', async () => {
    const everything = JSON.stringify([
      await db.staffMember.findMany(),
      await db.requestKey.findMany(),
      await db.staffLink.findMany(),
    ]);
    for (const secret of ['the first of mine', 'the second of mine', 'wheel and kiln'])
      expect(everything).not.toContain(secret);
    const body = { currentPassword: 'the first of mine', password: 'the second of mine' };
    const quick = createHash('sha256')
      .update(JSON.stringify(['POST', '/api/password', body]))
      .digest('hex');
    expect(everything).not.toContain(quick); // what a thief could guess at, a thousand million times a second
  });
});

test('signing out elsewhere leaves this session', async () => {
  const [here, phone] = [
    await signedIn(ownerMember.email, 'a long test password'),
    await signedIn(ownerMember.email, 'a long test password'),
  ];
  const answer = await send('/api/sign-out/others', {}, { cookie: here });
  expect(answer.json().sessionsEnded).toBeGreaterThanOrEqual(1);
  expect([(await me(here)).statusCode, (await me(phone)).statusCode]).toEqual([200, 401]);
});
