import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { getSchedule } from '../../../src/studio/kilns/service.js';
import { testApp } from '../../support/app.js';
import { BISQUE, GLAZE_FIRING, scheduleFixture } from '../../support/fixtures/kilns.js';

const { db, owner, tutor } = await testApp();

const climb = (ratePerHourC: number, targetC: number, holdMinutes = 0) => [{ ratePerHourC, targetC, holdMinutes }];

describe('adding a schedule', () => {
  test('keeps its segments in order, and shows what they come to', async () => {
    const answer = await owner.post('/api/schedules', GLAZE_FIRING);
    expect(answer.statusCode).toBe(201);
    // 1080 °C at 150 an hour, 122 °C at 60 an hour, 5 minutes: 432 + 122 + 5; cone 6 at 60 °C/h is down at 1222 °C
    const reckoned = { topC: 1222, programmedMinutes: 559, coneDownC: 1222 };
    expect(answer.json()).toEqual({ ...GLAZE_FIRING, id: expect.any(String), ...reckoned });
    expect(await inTransaction(db, (tx) => getSchedule(tx, answer.json().id))).toEqual(answer.json());
  });

  // The segments: a potter's manual stoneware bisque, community.ceramicartsdaily.org topic 4889. It gives no duration; ours is
  // reckoned by hand: 580/100 h + 10 min + 150/150 h + 237/100 h + 10 min = 570.2 min. The cone: Orton's chart of 2016, cone 07
  // at 976 °C for 60 °C/h and 987 °C for 150 °C/h, hence 980.9 °C at 100 °C/h.
  test('reckons a published bisque', async () => {
    const segments = [...climb(100, 600, 10), ...climb(150, 750), ...climb(100, 987, 10)];
    const shown = await scheduleFixture(owner, { cone: '07', segments });
    expect(shown).toMatchObject({ topC: 987, programmedMinutes: 571, coneDownC: 980.9 });
  });

  test('counts cooling that is programmed, and takes the top from its hottest segment', async () => {
    const segments = [...climb(100, 1220), ...climb(50, 1020, 30)];
    expect(await scheduleFixture(owner, { kind: 'glaze', cone: null, segments })).toMatchObject({
      topC: 1220,
      programmedMinutes: 720 + 240 + 30,
      coneDownC: null,
    });
  });

  test('says nothing of a cone where the rate leaves the chart', async () => {
    const shown = await scheduleFixture(owner, { kind: 'glaze', cone: '6', segments: climb(300, 1222) });
    expect(shown.coneDownC).toBeNull();
  });

  test.each([
    ['no segments', { segments: [] }, '#/segments'],
    [
      'more segments than any controller',
      { segments: Array.from({ length: 51 }, () => climb(100, 1000)[0]) },
      '#/segments',
    ],
    ['one that stands still', { segments: climb(0, 1000) }, '#/segments/0/ratePerHourC'],
    ['one that never climbs', { cone: null, segments: climb(100, 20, 60) }, '#/segments'],
    ['one that melts the kiln', { segments: climb(100, 1401) }, '#/segments/0/targetC'],
    ['a hold without end', { segments: climb(100, 1000, 6001) }, '#/segments/0/holdMinutes'],
    ['a week and more', { cone: null, segments: climb(5, 1000) }, '#/segments'],
    ['a bisque with a digit lost', { cone: null, segments: climb(100, 100) }, '#/segments'],
    ['a lustre that would burn away', { kind: 'lustre', cone: null, segments: climb(100, 1000) }, '#/segments'],
    ['a cone that does not exist', { cone: '66' }, '#/cone'],
    ['cone 6 for cone 06', { cone: '6' }, '#/cone'],
    ['a kind that it does not know', { kind: 'raku' }, '#/kind'],
  ])('refuses %s', async (_, change, pointer) => {
    const answer = await owner.post('/api/schedules', { ...BISQUE, name: 'Refused', ...change });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors.map((e: { pointer: string }) => e.pointer)).toContain(pointer);
    expect(await db.schedule.count({ where: { name: 'Refused' } })).toBe(0);
  });

  test.each([
    [930, 422],
    [931, 201],
    [1063, 201],
    [1064, 422],
  ])('takes a cone 06 schedule to %i °C or not: 50 °C around what the chart says', async (targetC, status) => {
    const body = { ...BISQUE, name: `To ${targetC}`, segments: climb(100, targetC) };
    const answer = await owner.post('/api/schedules', body);
    expect(answer.statusCode).toBe(status);
    if (status === 422) expect(answer.json().detail).toContain('Cone 06 goes down between 981 and 1013 °C');
  });

  test('refuses a second one of the same name', async () => {
    const { name } = await scheduleFixture(owner);
    const answer = await owner.post('/api/schedules', { ...BISQUE, name });
    expect(answer.json()).toMatchObject({ type: '/problems/already-there' });
  });

  test('adds one, however often it is sent', async () => {
    const key = randomUUID();
    const body = { ...BISQUE, name: 'Sent often' };
    await Promise.all(Array.from({ length: 5 }, () => owner.post('/api/schedules', body, key)));
    expect(await db.schedule.count({ where: { name: 'Sent often' } })).toBe(1);
  });
});

test('schedules are there for whoever fires, and set up by the owner', async () => {
  const added = await scheduleFixture(owner);
  expect((await tutor.get('/api/schedules?limit=200')).json().items).toContainEqual(added);
  expect((await tutor.post('/api/schedules', BISQUE)).statusCode).toBe(403);
});

test('a schedule by an id that none has is missed with a sentence', async () => {
  const missed = inTransaction(db, (tx) => getSchedule(tx, randomUUID()));
  await expect(missed).rejects.toMatchObject({ type: 'not-found', more: { lookUp: '/api/schedules', page: 'kilns' } });
});
