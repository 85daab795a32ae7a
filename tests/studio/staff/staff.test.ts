import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { signIn } from '../../../src/studio/staff/sign-in.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { elsewhere } from '../../support/operations.js';

const { app, db, clock, owner, tutor, stranger, ownerMember } = await testApp();
const OSSIAN = { name: 'Ossian Vey', email: 'ossian@alderlane.example', role: 'tutor' };
const PASSWORD = 'wheel and kiln';

/** Invites somebody. @returns their entry, with the link's address and its token */
async function invite(changes: object = {}) {
  const answer = await owner.post('/api/staff', { ...OSSIAN, email: `${randomUUID()}@alderlane.example`, ...changes });
  if (answer.statusCode !== 201) throw new Error(answer.body);
  const entry = answer.json();
  return { ...entry, token: new URL(entry.linkAddress).hash.slice(1) };
}
const send = (url: string, payload: object) =>
  app.inject({
    ...{ method: 'POST', url, payload, remoteAddress: elsewhere() },
    headers: { 'sec-fetch-site': 'same-origin', 'idempotency-key': randomUUID() },
  });
/** Somebody who has joined, with a session of theirs. */
async function join(changes: object = {}) {
  const { id, email, token } = await invite(changes);
  const used = await send('/api/password-link/use', { token, password: PASSWORD });
  if (used.statusCode !== 200) throw new Error(used.body);
  const cookie = await signIn(db, clock.now(), { email, password: PASSWORD });
  const get = (url: string) => app.inject({ url, headers: { cookie: `wareboard=${cookie}` } });
  return { id, email, get };
}
const entryOf = async (id: string, who = 'current') =>
  (await owner.get(`/api/staff?who=${who}`)).json().items.find((one: { id: string }) => one.id === id);

describe('inviting somebody', () => {
  test('is once per address, and once per key; the link is shown once', async () => {
    const key = randomUUID();
    const answer = await owner.post('/api/staff', OSSIAN, key);
    expect(answer.statusCode).toBe(201);
    const { linkAddress, ...entry } = answer.json();
    expect(linkAddress).toMatch(/^http:\/\/localhost(:\d+)?\/password#[\w-]{43}$/); // 256 bits
    expect(entry).toEqual({
      ...{ ...OSSIAN, id: expect.any(String), state: 'invited', removedAt: null, comingSessions: 0 },
      passwordLink: {
        ...{ purpose: 'invitation', works: true, mail: { state: 'waiting', detail: null } },
        ...{ createdAt: '2026-03-10T09:00:00.000Z', expiresAt: '2026-03-17T09:00:00.000Z' },
      },
      opensHereOnly: true,
    });
    expect((await owner.post('/api/staff', OSSIAN, key)).json()).toEqual({ ...entry, linkAddress: null });
    const again = await owner.post('/api/staff', { ...OSSIAN, email: 'Ossian@Alderlane.example' });
    expect(again.json()).toMatchObject({
      type: '/problems/already-there',
      detail: expect.stringContaining(OSSIAN.email),
    });
    expect(await db.staffMember.count({ where: { email: OSSIAN.email } })).toBe(1);
    const { items } = (await owner.get('/api/staff')).json();
    expect(items.map(({ name }: { name: string }) => name)).toEqual(['Ossian Vey', 'Test owner', 'Test tutor']);
    const kept = JSON.stringify([await db.staffLink.findMany(), await db.requestKey.findMany()]);
    expect(kept).not.toContain(new URL(linkAddress).hash.slice(1));
  });

  test('at the same address by two owners at once makes one', async () => {
    const wanted = { ...OSSIAN, email: 'twice@alderlane.example' };
    const answers = await Promise.all(Array.from({ length: 6 }, () => owner.post('/api/staff', wanted)));
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409, 409, 409, 409]);
    expect(answers.find(({ statusCode }) => statusCode === 409)?.json().type).toBe('/problems/already-there');
  });

  test('is the owner’s, and takes no password', async () => {
    expect((await tutor.post('/api/staff', OSSIAN)).statusCode).toBe(403);
    expect((await tutor.get('/api/staff')).statusCode).toBe(403);
    expect((await stranger.post('/api/staff', OSSIAN)).statusCode).toBe(401);
    expect((await owner.post('/api/staff', { ...OSSIAN, role: 'king' })).json()).toMatchObject({
      errors: [{ pointer: '#/role' }],
    });
    expect((await owner.post('/api/staff', { ...OSSIAN, password: PASSWORD })).statusCode).toBe(422);
  });
});

describe('changing what somebody is', () => {
  test('counts from their next request', async () => {
    const { id, email, get } = await join();
    expect((await get('/api/tokens')).statusCode).toBe(403);
    const wanted = { name: 'Ossian Vey', email, role: 'owner' };
    expect((await owner.put(`/api/staff/${id}`, wanted)).json()).toEqual({ id, ...wanted });
    expect((await get('/api/tokens')).statusCode).toBe(200);
    expect((await owner.put(`/api/staff/${id}`, { ...wanted, role: 'tutor' })).statusCode).toBe(200);
    expect((await get('/api/tokens')).statusCode).toBe(403);
  });

  test('is refused to whoever has not seen it, and where the address is another’s', async () => {
    const { id } = await join();
    const wanted = { ...OSSIAN, email: ownerMember.email };
    expect((await owner.put(`/api/staff/${id}`, wanted)).json()).toMatchObject({ type: '/problems/already-there' });
    const stale = { 'if-match': '"as-it-never-was"' };
    expect((await owner.put(`/api/staff/${id}`, wanted, undefined, stale)).statusCode).toBe(412);
  });

  test('a link that went to another address ends', async () => {
    const { id, token } = await invite();
    const wanted = { ...OSSIAN, email: 'right@alderlane.example' };
    expect((await owner.put(`/api/staff/${id}`, wanted)).statusCode).toBe(200);
    expect((await send('/api/password-link', { token })).statusCode).toBe(404);
    expect(await entryOf(id)).toMatchObject({ state: 'invited', passwordLink: null });
  });
});

describe('removing somebody', () => {
  test('ends sessions, tokens and links at once, and keeps what they did under their name', async () => {
    const { id, email, get } = await join({ role: 'owner', name: 'Halden Roe' });
    await owner.post(`/api/staff/${id}/password-link`);
    const cookie = await signIn(db, clock.now(), { email, password: PASSWORD });
    const made = await app.inject({
      ...{ method: 'POST', url: '/api/tokens' },
      headers: { cookie: `wareboard=${cookie}`, 'sec-fetch-site': 'same-origin', 'idempotency-key': randomUUID() },
      payload: { name: 'The website', rights: ['people:read'], lastDay: '2026-12-31' },
    });
    const script = () => app.inject({ url: '/api/people', headers: { authorization: `Bearer ${made.json().token}` } });
    expect([(await get('/api/me')).statusCode, (await script()).statusCode]).toEqual([200, 200]);

    const key = randomUUID();
    const answer = await owner.post(`/api/staff/${id}/removal`, {}, key);
    expect(answer.json()).toMatchObject({
      state: 'removed',
      removedAt: '2026-03-10T09:00:00.000Z',
      passwordLink: null,
    });
    expect([(await get('/api/me')).statusCode, (await script()).statusCode]).toEqual([401, 401]);
    await expect(signIn(db, clock.now(), { email, password: PASSWORD })).rejects.toThrow(/Check both/);
    expect((await owner.post(`/api/staff/${id}/removal`, {}, key)).json()).toEqual(answer.json());
    expect((await owner.post(`/api/staff/${id}/removal`)).json()).toEqual(answer.json());
    expect(await entryOf(id)).toBeUndefined();
    expect(await entryOf(id, 'removed')).toMatchObject({ name: 'Halden Roe', state: 'removed' });
    const { items } = (await owner.get('/api/tokens')).json();
    expect(items[0]).toMatchObject({ madeBy: 'Halden Roe', revokedAt: '2026-03-10T09:00:00.000Z' });
    expect((await owner.post(`/api/staff/${id}/password-link`)).statusCode).toBe(404);
    // the address is free again, for somebody else
    expect(await invite({ email, name: 'Ines Roe' })).toMatchObject({ state: 'invited' });
  });

  test('withdraws an invitation', async () => {
    const { id, token } = await invite();
    expect((await owner.post(`/api/staff/${id}/removal`)).json()).toMatchObject({ state: 'removed' });
    expect((await send('/api/password-link/use', { token, password: PASSWORD })).statusCode).toBe(404);
    const [jobs] = await db.$queryRaw<{ n: number }[]>`
      SELECT count(*)::int AS n FROM graphile_worker.jobs WHERE key LIKE 'staff-link-%' AND key NOT IN (
        SELECT 'staff-link-' || id FROM staff_link WHERE used_at IS NULL AND ended_at IS NULL)`;
    expect(jobs?.n).toBe(0);
  });

  test('leaves an owner: not the last one goes, or becomes a tutor', async () => {
    const last = { type: '/problems/last-owner', status: 409, detail: expect.stringContaining('Test owner') };
    expect((await owner.post(`/api/staff/${ownerMember.id}/removal`)).json()).toMatchObject(last);
    const { name, email } = ownerMember;
    const demoted = await owner.put(`/api/staff/${ownerMember.id}`, { name, email, role: 'tutor' });
    expect(demoted.json()).toMatchObject(last);
    const { id } = await invite({ role: 'owner' }); // who has not joined can let nobody in
    expect((await owner.post(`/api/staff/${ownerMember.id}/removal`)).json()).toMatchObject(last);
    await owner.post(`/api/staff/${id}/removal`);
  });

  test('two owners who remove each other at once leave one', async () => {
    const [a, b] = [await join({ role: 'owner' }), await join({ role: 'owner' })];
    const rest = { where: { id: ownerMember.id } };
    await db.staffMember.update({ ...rest, data: { role: 'tutor' } }); // so that the two are all there are
    const by = async ({ email }: { email: string }, id: string) => {
      const cookie = await signIn(db, clock.now(), { email, password: PASSWORD });
      const headers = {
        cookie: `wareboard=${cookie}`,
        'sec-fetch-site': 'same-origin',
        'idempotency-key': randomUUID(),
      };
      return () => app.inject({ method: 'POST', url: `/api/staff/${id}/removal`, headers, payload: {} });
    };
    const [first, second] = [await by(a, b.id), await by(b, a.id)];
    const answers = await Promise.all([first(), second()]);
    expect(answers.map(({ statusCode }) => statusCode).filter((status) => status === 200)).toHaveLength(1);
    expect(await db.staffMember.count({ where: { role: 'owner', removedAt: null, passwordHash: { not: null } } })).toBe(
      1,
    );
    await db.staffMember.update({ ...rest, data: { role: 'owner' } });
  });

  test('says how many sessions they were to teach, and they can be given no more', async () => {
    const { id } = await join();
    const home = await coursesFixture(owner);
    const sessions = home.body.sessions.map((session) => ({ ...session, tutorIds: [id] }));
    const course = (await owner.post('/api/courses', { ...home.body, sessions })).json();
    expect(course.sessions[0].tutors).toEqual([{ id, name: 'Ossian Vey' }]);
    expect((await owner.post(`/api/staff/${id}/removal`)).json()).toMatchObject({
      comingSessions: course.sessions.length,
    });
    const refused = await owner.post('/api/courses', { ...home.body, sessions });
    expect(refused.json()).toMatchObject({ type: '/problems/not-found', detail: expect.stringContaining('removed') });
    const { items } = (await owner.get('/api/courses')).json();
    expect(items.find((one: { id: string }) => one.id === course.id).sessions[0].tutors[0].name).toBe('Ossian Vey');
  });

  /** The database refuses it too: whatever slips past the service. */
  test('the last owner stays also where the service was not asked', async () => {
    await db.staffMember.updateMany({ where: { id: { not: ownerMember.id } }, data: { role: 'tutor' } });
    await expect(
      db.staffMember.update({ where: { id: ownerMember.id }, data: { removedAt: new Date(), passwordHash: null } }),
    ).rejects.toThrow(/WB011/);
  });
});
