import { afterAll, describe, expect, test } from 'vitest';
import { buildApp } from '../../../src/server/app.js';
import { testApp } from '../../support/app.js';
import { elsewhere } from '../../support/operations.js';

const { app, db, clock, ownerMember } = await testApp();
const proxied = await buildApp({ db, now: clock.now, trustProxy: true });
afterAll(() => proxied.close());

const CREDENTIALS = { email: ownerMember.email, password: 'a long test password' };
const sameOrigin = { 'sec-fetch-site': 'same-origin' };
const signIn = (payload: object = CREDENTIALS, headers: object = {}, through = app) =>
  through.inject({
    ...{ method: 'POST', url: '/api/sign-in', remoteAddress: elsewhere() },
    ...{ headers: { ...sameOrigin, ...headers }, payload },
  });
const cookieOf = (answer: { headers: object }) => String((answer.headers as Record<string, unknown>)['set-cookie']);
const tokenOf = (cookie: string) => cookie.split(';')[0] ?? '';
const me = (cookie: string, headers: object = {}, through = app) =>
  through.inject({ url: '/api/me', headers: { cookie, ...headers }, remoteAddress: elsewhere() });

describe('signing in', () => {
  test('gives a cookie that scripts cannot read and other sites cannot send', async () => {
    const answer = await signIn();
    expect(answer.statusCode).toBe(204);
    expect(answer.body).toBe('');
    const [value, ...attributes] = cookieOf(answer).split('; ');
    expect(value).toMatch(/^wareboard=[\w-]{43}$/); // 256 bits
    expect(attributes.sort()).toEqual(['HttpOnly', 'Max-Age=2592000', 'Path=/', 'SameSite=Strict']);
    expect((await me(tokenOf(cookieOf(answer)))).json()).toMatchObject({ email: ownerMember.email, role: 'owner' });
  });

  test('over HTTPS gives one that is bound to this host and never sent in the clear', async () => {
    const https = { 'x-forwarded-proto': 'https', 'x-forwarded-host': 'studio.example' };
    const answer = await signIn(CREDENTIALS, https, proxied);
    const [value, ...attributes] = cookieOf(answer).split('; ');
    expect(value).toMatch(/^__Host-wareboard=[\w-]{43}$/);
    expect(attributes.sort()).toEqual(['HttpOnly', 'Max-Age=2592000', 'Path=/', 'SameSite=Strict', 'Secure']);
    expect((await me(value ?? '', https, proxied)).statusCode).toBe(200);
    expect((await me((value ?? '').replace('__Host-', ''), https, proxied)).statusCode).toBe(401);
  });

  test('believes no header of a proxy that was not named', async () => {
    expect(cookieOf(await signIn(CREDENTIALS, { 'x-forwarded-proto': 'https' }))).not.toContain('Secure');
  });

  test('opens a new session each time, whatever cookie is sent along', async () => {
    const first = tokenOf(cookieOf(await signIn()));
    const second = tokenOf(cookieOf(await signIn(CREDENTIALS, { cookie: first })));
    const planted = tokenOf(cookieOf(await signIn(CREDENTIALS, { cookie: 'wareboard=chosen-by-somebody-else' })));
    expect(new Set([first, second, planted]).size).toBe(3);
    expect((await me('wareboard=chosen-by-somebody-else')).statusCode).toBe(401);
  });

  test('keeps only what a thief of the database cannot use', async () => {
    const token = tokenOf(cookieOf(await signIn())).split('=')[1] ?? '';
    const kept = await db.signIn.findMany();
    expect(JSON.stringify(kept)).not.toContain(token);
    expect((await me(`wareboard=${kept[0]?.tokenHash}`)).statusCode).toBe(401);
  });

  test('takes an address however it is written, and a password only as it is', async () => {
    expect((await signIn({ ...CREDENTIALS, email: ownerMember.email.toUpperCase() })).statusCode).toBe(204);
    expect((await signIn({ ...CREDENTIALS, password: 'A long test password' })).statusCode).toBe(401);
  });

  test('does not tell whether the address or the password is wrong', async () => {
    const wrong = [
      await signIn({ ...CREDENTIALS, password: 'a guess' }),
      await signIn({ ...CREDENTIALS, email: 'no@example.org' }),
    ];
    const told = wrong.map((answer) => ({ ...answer.json(), requestId: '' }));
    expect(told[0]).toEqual(told[1]);
    expect(told[0]).toMatchObject({ type: '/problems/wrong-password', status: 401 });
    expect(wrong.every(({ headers }) => headers['set-cookie'] === undefined)).toBe(true);
  });
});

describe('a session', () => {
  const HOUR = 3_600_000;
  /** A server whose clock stands so many hours after the sign-ins of this file. */
  const later = async <T>(hours: number, work: (through: typeof app) => Promise<T>): Promise<T> => {
    const time = new Date(clock.now().getTime() + hours * HOUR);
    const then = await buildApp({ db, now: () => time });
    try {
      return await work(then);
    } finally {
      await then.close();
    }
  };

  test('ends 72 hours after it was last used, and then for good', async () => {
    const cookie = tokenOf(cookieOf(await signIn()));
    expect(await later(72, (then) => me(cookie, {}, then))).toMatchObject({ statusCode: 200 });
    expect(await later(144, (then) => me(cookie, {}, then))).toMatchObject({ statusCode: 200 });
    expect(await later(216.1, (then) => me(cookie, {}, then))).toMatchObject({ statusCode: 401 });
    expect((await me(cookie)).statusCode).toBe(401);
  });

  test('ends 30 days after signing in, however busy it was', async () => {
    const cookie = tokenOf(cookieOf(await signIn()));
    for (let hours = 48; hours <= 720; hours += 48)
      expect(await later(hours, (then) => me(cookie, {}, then)), `${hours} h`).toMatchObject({ statusCode: 200 });
    expect(await later(720.1, (then) => me(cookie, {}, then))).toMatchObject({ statusCode: 401 });
  });

  test('ends by signing out, alone of all that somebody has', async () => {
    const [phone, bench] = [tokenOf(cookieOf(await signIn())), tokenOf(cookieOf(await signIn()))];
    const headers = { ...sameOrigin, cookie: phone };
    const answer = await app.inject({ method: 'POST', url: '/api/sign-out', headers, remoteAddress: elsewhere() });
    expect(answer.statusCode).toBe(204);
    expect(cookieOf(answer)).toMatch(/^wareboard=; .*Expires=Thu, 01 Jan 1970/);
    expect((await me(phone)).statusCode).toBe(401);
    expect((await me(bench)).statusCode).toBe(200);
  });
});
