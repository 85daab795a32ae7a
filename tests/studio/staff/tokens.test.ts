import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { TOKEN_RIGHTS } from '../../../src/http/rights.js';
import { signIn } from '../../../src/studio/staff/sign-in.js';
import { testApp } from '../../support/app.js';
import { studioFixture } from '../../support/fixtures.js';
import { elsewhere, operations, somewhere } from '../../support/operations.js';

const { app, db, clock, owner, ownerMember, tutor, stranger } = await testApp();
await studioFixture(owner); // Europe/London
const all = await operations(app);
const WANTED = { name: 'The website', rights: ['people:read'], lastDay: '2026-12-31' };
const make = async (changes: object = {}) => (await owner.post('/api/tokens', { ...WANTED, ...changes })).json();
const by = (token: string, url: string, method: 'GET' | 'POST' = 'GET', more: object = {}) =>
  app.inject({
    ...{ method, url, remoteAddress: elsewhere(), ...(method === 'POST' && { payload: { name: 'Ines Duval' } }) },
    headers: { authorization: `Bearer ${token}`, 'idempotency-key': `"${randomUUID()}"`, ...more },
  });

describe('a token', () => {
  test('is shown once, opens what it was made for, and is kept as a hash', async () => {
    const key = randomUUID();
    const answer = await owner.post('/api/tokens', WANTED, key);
    const { token, ...shown } = answer.json();
    expect(answer.statusCode).toBe(201);
    expect(token).toMatch(/^wareboard_[\w-]{43}$/);
    expect(shown).toMatchObject({ ...{ name: 'The website', rights: ['people:read'], lastUsedAt: null } });
    expect(shown.endsAt).toBe('2027-01-01T00:00:00.000Z');
    expect((await owner.post('/api/tokens', WANTED, key)).json()).toEqual({ ...shown, token: null });
    expect((await by(token, '/api/people')).statusCode).toBe(200);
    const listed = (await owner.get('/api/tokens')).json().items.at(-1);
    expect(listed).toEqual({ ...shown, lastUsedAt: '2026-03-10T09:00:00.000Z' });
    expect(token.startsWith(listed.prefix)).toBe(true);
    const secret = token.slice(listed.prefix.length);
    const kept = [await db.apiToken.findMany(), await db.requestKey.findMany()];
    expect(JSON.stringify(kept)).not.toContain(secret);
  });

  test('ends with its last day in the studio, and at once when it is revoked', async () => {
    const { token } = await make({ lastDay: '2026-03-30' });
    await clock.set('2026-03-30T22:59:59Z'); // 23:59:59 in London, since the 29th on summer time
    expect((await by(token, '/api/people')).statusCode).toBe(200);
    await clock.set('2026-03-30T23:00:00Z');
    expect((await by(token, '/api/people')).statusCode).toBe(401);
    await clock.set('2026-03-10T09:00:00Z');
    const revoked = await make();
    expect((await by(revoked.token, '/api/people')).statusCode).toBe(200);
    const first = await owner.post(`/api/tokens/${revoked.id}/revocation`);
    expect(first.json()).toMatchObject({ id: revoked.id, revokedAt: '2026-03-10T09:00:00.000Z' });
    expect((await by(revoked.token, '/api/people')).statusCode).toBe(401);
    await clock.set('2026-03-10T09:01:00Z');
    expect((await owner.post(`/api/tokens/${revoked.id}/revocation`)).json()).toEqual(first.json());
    await clock.set('2026-03-10T09:00:00Z');
    expect((await owner.post(`/api/tokens/${randomUUID()}/revocation`)).statusCode).toBe(404);
  });

  test.each([
    ['yesterday', { lastDay: '2026-03-09' }],
    ['more than a year away', { lastDay: '2027-03-11' }],
    ['no right', { rights: [] }],
    ['the right to let people in', { rights: ['staff:write'] }],
    ['a right that there is not', { rights: ['people:bake'] }],
  ])('is not made with %s', async (_, changes) => {
    expect((await owner.post('/api/tokens', { ...WANTED, ...changes })).json()).toMatchObject({
      ...{ type: '/problems/invalid-request', status: 422, errors: [{ pointer: expect.any(String) }] },
    });
  });

  test('is the owner’s to make, and lasts up to a year', async () => {
    expect((await tutor.post('/api/tokens', WANTED)).statusCode).toBe(403);
    expect((await stranger.post('/api/tokens', WANTED)).statusCode).toBe(401);
    expect((await owner.post('/api/tokens', { ...WANTED, lastDay: '2027-03-10' })).statusCode).toBe(201);
  });

  test('may never do more than its maker may', async () => {
    const { token, id } = await make({ rights: ['money:read', 'people:read'] });
    expect((await by(token, '/api/debtors')).statusCode).toBe(200);
    const { id: tutorId } = await db.staffMember.findFirstOrThrow({ where: { role: 'tutor' } });
    await db.apiToken.update({ where: { id }, data: { staffMemberId: tutorId } });
    expect((await by(token, '/api/debtors')).statusCode).toBe(403);
    expect((await by(token, '/api/people')).statusCode).toBe(200);
    expect((await by(token, '/api/me')).json()).toMatchObject({ role: 'tutor', rights: ['people:read'] });
  });
});

// RFC 6750 s.3 and s.3.1
test('who is refused is told how to be let in', async () => {
  const headerOf = async (authorization?: string) => {
    const answer = await app.inject({ url: '/api/staff', headers: authorization ? { authorization } : {} });
    return [answer.statusCode, answer.json().type, answer.headers['www-authenticate']];
  };
  const { token } = await make();
  expect(await headerOf()).toEqual([401, '/problems/signed-out', 'Bearer realm="Wareboard"']);
  expect(await headerOf('Basic d2FyZTpib2FyZA==')).toEqual([401, '/problems/signed-out', 'Bearer realm="Wareboard"']);
  const invalid = [401, '/problems/wrong-token', 'Bearer realm="Wareboard", error="invalid_token"'];
  for (const wrong of [`Bearer ${token}x`, 'Bearer', 'bearer x', `BEARER ${token.toUpperCase()}`])
    expect(await headerOf(wrong)).toEqual(invalid);
  expect(await headerOf(`bearer ${token}`)).toEqual([
    ...[403, '/problems/not-allowed', 'Bearer realm="Wareboard", error="insufficient_scope", scope="staff:write"'],
  ]);
});

describe('a request with a token', () => {
  test('needs not come from the desk, and no cookie beside it counts', async () => {
    const { token } = await make({ rights: ['people:write'] });
    expect((await by(token, '/api/people', 'POST')).statusCode).toBe(201);
    expect((await by(token, '/api/people', 'POST', { 'sec-fetch-site': 'cross-site' })).statusCode).toBe(201);
    const cookie = `wareboard=${await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' })}`;
    expect((await by(token, '/api/people', 'GET', { cookie })).statusCode).toBe(403);
    expect((await by('wrong', '/api/people', 'GET', { cookie })).statusCode).toBe(401);
    expect((await by(token, '/api/sign-in', 'POST')).json().type).toBe('/problems/cross-site');
  });

  test('has its keys for itself', async () => {
    const [one, other] = [await make({ rights: ['people:write'] }), await make({ rights: ['people:write'] })];
    const key = { 'idempotency-key': `"${randomUUID()}"` };
    const ids = [];
    for (const { token } of [one, other, one]) ids.push((await by(token, '/api/people', 'POST', key)).json().id);
    expect(ids[2]).toBe(ids[0]);
    expect(ids[1]).not.toBe(ids[0]);
    expect(
      (await owner.post('/api/people', { name: 'Ines Duval' }, key['idempotency-key'].slice(1, -1))).json().id,
    ).not.toBe(ids[0]);
  });
});

const FOR_PEOPLE_ONLY = ['staff:write', 'account:write', 'care:read', 'care:write'];

test.each(TOKEN_RIGHTS.map((right) => [right]))(
  'a token with %s alone opens what needs it, and nothing else',
  async (right) => {
    const { token } = await make({ rights: [right] });
    for (const { method, path, name, security } of all.filter((o) => o.security.length > 0)) {
      const needed = security[0]?.session ?? [];
      const headers = { authorization: `Bearer ${token}` };
      const payload = method === 'GET' ? {} : { payload: {} };
      const answer = await app.inject({
        method,
        url: somewhere(path),
        headers,
        remoteAddress: elsewhere(),
        ...payload,
      });
      const open = needed.length === 0 || needed[0] === right;
      expect(answer.statusCode === 403, `${name} ${answer.body}`).toBe(!open);
      expect(answer.statusCode, name).not.toBe(401);
      expect(security.length, name).toBe(FOR_PEOPLE_ONLY.includes(needed[0] ?? '') ? 1 : 2);
    }
  },
);
