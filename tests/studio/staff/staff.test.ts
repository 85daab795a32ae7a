import { createHash, randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { RIGHTS, rightsOf } from '../../../src/http/rights.js';
import { testApp } from '../../support/app.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor, stranger, ownerMember } = await testApp();
const OSSIAN = { name: 'Ossian Vey', email: 'ossian@alderlane.example', role: 'tutor', password: 'wheel and kiln' };

describe('adding a member of staff', () => {
  test('is once per address, and once per key', async () => {
    const key = randomUUID();
    const answer = await owner.post('/api/staff', OSSIAN, key);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toEqual({ id: expect.any(String), name: 'Ossian Vey', email: OSSIAN.email, role: 'tutor' });
    expect((await owner.post('/api/staff', OSSIAN, key)).json()).toEqual(answer.json());
    const again = await owner.post('/api/staff', { ...OSSIAN, email: 'Ossian@Alderlane.example' });
    expect(again.json()).toMatchObject({
      type: '/problems/already-there',
      detail: expect.stringContaining(OSSIAN.email),
    });
    expect(await db.staffMember.count({ where: { email: OSSIAN.email } })).toBe(1);
    const { items } = (await owner.get('/api/staff')).json();
    expect(items.map(({ name }: { name: string }) => name)).toEqual(['Ossian Vey', 'Test owner', 'Test tutor']);
  });

  test('keeps the password nowhere in clear, not even for a request that is sent again', async () => {
    const everything = JSON.stringify([await db.staffMember.findMany(), await db.requestKey.findMany()]);
    expect(everything).not.toContain(OSSIAN.password);
    const quick = createHash('sha256')
      .update(JSON.stringify(['POST', '/api/staff', OSSIAN]))
      .digest('hex');
    expect(everything).not.toContain(quick); // what a thief could guess at, a thousand million times a second
  });

  test('is the owner’s', async () => {
    expect((await tutor.post('/api/staff', OSSIAN)).statusCode).toBe(403);
    expect((await tutor.get('/api/staff')).statusCode).toBe(403);
    expect((await stranger.post('/api/staff', OSSIAN)).statusCode).toBe(401);
    expect((await owner.post('/api/staff', { ...OSSIAN, role: 'king' })).json()).toMatchObject({
      errors: [{ pointer: '#/role' }],
    });
  });
});

describe('who am I', () => {
  test('tells name, rights and the day; the studio once there is one', async () => {
    const before = (await owner.get('/api/me')).json();
    expect(before).toMatchObject({ id: ownerMember.id, role: 'owner', studio: null, today: '2026-03-10' });
    expect(before.rights).toEqual([...RIGHTS]);
    await studioFixture(owner, { timeZone: 'Pacific/Kiritimati' }); // 14 hours ahead of UTC: at 09:00Z it is 23:00 there
    const after = (await tutor.get('/api/me')).json();
    expect(after.studio).toEqual({
      name: 'Alder Lane Pottery',
      currency: 'GBP',
      locale: 'en-GB',
      timeZone: 'Pacific/Kiritimati',
    });
    expect(after.rights).toEqual(RIGHTS.filter((right) => rightsOf('tutor').includes(right)));
    expect(after.rights).not.toContain('money:read');
  });
});
