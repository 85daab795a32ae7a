import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { type Workshop, workshopFixture } from '../../support/fixtures/courses.js';
import { firingFixture, step } from '../../support/fixtures/firings.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));
const plan = (shop: Workshop, plannedFrom: string, plannedTo: string, changes: object = {}) => ({
  ...{ kilnId: shop.kiln.id, scheduleId: shop.stoneware.id, plannedFrom, plannedTo, labourMinutes: 60, ...changes },
});

describe('planning a firing', () => {
  test('gives it a number and the kiln, and says how to fire with care', async () => {
    const shop = await workshopFixture(owner);
    const answer = await tutor.post('/api/firings', plan(shop, '2026-03-12T19:00:00Z', '2026-03-13T19:00:00Z'));
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({
      ...{ number: 1, kilnId: shop.kiln.id, kind: 'glaze', state: 'planned', pieces: 0, layers: [], readings: [] },
      ...{ plannedFrom: '2026-03-12T19:00:00.000Z', startedAt: null, overruns: null },
      caution: expect.stringMatching(/Isolate the kiln.*carbon monoxide and sulphur.*unattended firing/),
    });
    expect((await tutor.get(`/api/firings/${answer.json().id}`)).json()).toEqual(answer.json());
    const listed = (await tutor.get(`/api/firings?kilnId=${shop.kiln.id}&state=planned`)).json();
    expect(listed.items).toMatchObject([{ id: answer.json().id, number: 1 }]);
    expect((await tutor.get(`/api/firings?kilnId=${shop.kiln.id}&state=firing`)).json().items).toEqual([]);
  });

  test('is refused while the kiln is planned for another, and the refusal names it', async () => {
    const shop = await workshopFixture(owner);
    const first = await owner.post('/api/firings', plan(shop, '2026-03-12T19:00:00Z', '2026-03-13T19:00:00Z'));
    const clash = await owner.post('/api/firings', plan(shop, '2026-03-13T18:59:00Z', '2026-03-14T19:00:00Z'));
    expect(clash.statusCode).toBe(409);
    expect(clash.json()).toMatchObject({ type: '/problems/kiln-busy', firingId: first.json().id });
    expect(clash.json().detail).toMatch(/^Firing \d+ has this kiln from Thursday,? 12 March 2026, 19:00 to Friday/);
    const touching = await owner.post('/api/firings', plan(shop, '2026-03-13T19:00:00Z', '2026-03-14T19:00:00Z'));
    expect(touching.statusCode).toBe(201); // half-open ranges only touch
  });

  test('is refused for a time in which the kiln really fired, whatever had been planned', async () => {
    const shop = await workshopFixture(owner);
    const { id } = await owner
      .post('/api/firings', plan(shop, '2026-03-05T19:00:00Z', '2026-03-06T07:00:00Z'))
      .then((a) => a.json());
    await step(owner, id, 'start', { startedAt: '2026-03-07T19:00:00Z' });
    const times = { endedAt: '2026-03-08T05:00:00Z', unloadedAt: '2026-03-08T15:00:00Z' };
    await step(owner, id, 'unloading', { ...times, outcomes: [] });
    const clash = await owner.post('/api/firings', plan(shop, '2026-03-08T14:00:00Z', '2026-03-09T14:00:00Z'));
    expect(clash.json()).toMatchObject({ type: '/problems/kiln-busy', firingId: id });
    const free = await owner.post('/api/firings', plan(shop, '2026-03-05T19:00:00Z', '2026-03-06T07:00:00Z'));
    expect(free.statusCode).toBe(201);
  });

  test('gives a kiln to one of many who ask at once, and one effect to one key', async () => {
    const shop = await workshopFixture(owner);
    const body = plan(shop, '2026-03-12T19:00:00Z', '2026-03-13T19:00:00Z');
    const answers = await Promise.all(Array.from({ length: 16 }, () => owner.post('/api/firings', body)));
    expect(answers.map((answer) => answer.statusCode).sort()).toEqual([201, ...Array(15).fill(409)]);
    const { id: firingId } = answers.find((answer) => answer.statusCode === 201)?.json() ?? {};
    // each is told which firing has it: they were judged one after the other, none left to the database
    for (const refused of answers.filter((answer) => answer.statusCode === 409))
      expect(refused.json()).toMatchObject({ type: '/problems/kiln-busy', firingId });
    const later = plan(shop, '2026-04-12T19:00:00Z', '2026-04-13T19:00:00Z');
    const key = randomUUID();
    const same = await Promise.all(Array.from({ length: 6 }, () => owner.post('/api/firings', later, key)));
    expect(new Set(same.map((answer) => answer.body)).size).toBe(1);
    expect(await db.firing.count({ where: { kilnId: shop.kiln.id } })).toBe(2);
  });

  test('numbers firings one by one, whichever kilns they are in', async () => {
    const shops = [];
    for (let i = 0; i < 6; i++) shops.push(await workshopFixture(owner));
    const last = await db.firing.count();
    const made = await Promise.all(
      shops.map((shop) => firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.bisque.id })),
    );
    expect(made.map(({ number }) => number).sort((a, b) => a - b)).toEqual(made.map((_, i) => last + 1 + i));
  });

  test.each([
    ['an end before its start', { plannedTo: '2026-03-12T18:00:00Z' }, 422],
    ['more than a week', { plannedTo: '2026-03-20T18:00:00Z' }, 422],
    ['labour that nobody has', { labourMinutes: 10_001 }, 422],
    ['a year far off', { plannedFrom: '1026-03-12T19:00:00Z' }, 422],
    ['a kiln that is not there', { kilnId: randomUUID() }, 404],
    ['a schedule that is not there', { scheduleId: randomUUID() }, 404],
  ])('refuses %s', async (_, changes, status) => {
    const shop = await workshopFixture(owner);
    const body = plan(shop, '2026-03-12T19:00:00Z', '2026-03-13T19:00:00Z', changes);
    expect((await owner.post('/api/firings', body)).statusCode).toBe(status);
    expect(await db.firing.count({ where: { kilnId: shop.kiln.id } })).toBe(0);
  });
});

describe('what happened against what was planned', () => {
  test('a late start stands, names the plan into which it runs, and lets that be moved', async () => {
    const shop = await workshopFixture(owner);
    const kiln = { kilnId: shop.kiln.id, scheduleId: shop.bisque.id };
    const late = await firingFixture(owner, kiln, {
      plannedFrom: '2026-03-09T08:00:00Z',
      plannedTo: '2026-03-10T08:00:00Z',
    });
    const next = await firingFixture(owner, kiln, {
      plannedFrom: '2026-03-10T18:00:00Z',
      plannedTo: '2026-03-11T18:00:00Z',
    });
    expect(late.overruns).toBeNull();
    const started = await step(tutor, late.id, 'start', { startedAt: '2026-03-10T07:30:00Z' });
    expect(started).toMatchObject({
      state: 'firing',
      startedAt: '2026-03-10T07:30:00.000Z',
      plannedFrom: '2026-03-09T08:00:00.000Z',
    });
    expect(started.overruns).toEqual({
      ...{ firingId: next.id, number: next.number, plannedFrom: next.plannedFrom, plannedTo: next.plannedTo },
    });
    const clash = await owner.post(`/api/firings/${next.id}/plan`, {
      plannedFrom: '2026-03-11T07:00:00Z',
      plannedTo: '2026-03-12T07:00:00Z',
    });
    expect(clash.json()).toMatchObject({ type: '/problems/kiln-busy', firingId: late.id });
    await step(owner, next.id, 'plan', { plannedFrom: '2026-03-11T08:00:00Z', plannedTo: '2026-03-12T08:00:00Z' });
    expect((await owner.get(`/api/firings/${late.id}`)).json().overruns).toBeNull();
    expect(
      (
        await owner.post(`/api/firings/${late.id}/plan`, {
          plannedFrom: '2026-03-14T08:00:00Z',
          plannedTo: '2026-03-15T08:00:00Z',
        })
      ).json(),
    ).toMatchObject({ type: '/problems/wrong-state' });
  });

  test('a kiln that was opened late names the plan that it held up', async () => {
    const shop = await workshopFixture(owner);
    const kiln = { kilnId: shop.kiln.id, scheduleId: shop.bisque.id };
    const slow = await firingFixture(owner, kiln);
    const next = await firingFixture(owner, kiln, {
      plannedFrom: '2026-03-09T20:00:00Z',
      plannedTo: '2026-03-10T20:00:00Z',
    });
    await step(owner, slow.id, 'start', { startedAt: '2026-03-08T20:00:00Z' });
    const times = { endedAt: '2026-03-09T10:00:00Z', unloadedAt: '2026-03-10T08:00:00Z' };
    const unloaded = await step(owner, slow.id, 'unloading', { ...times, outcomes: [] });
    expect(unloaded).toMatchObject({
      state: 'unloaded',
      unloadedAt: '2026-03-10T08:00:00.000Z',
      overruns: { firingId: next.id },
    });
  });

  test('a kiln holds one load: the next starts once this one is out', async () => {
    const shop = await workshopFixture(owner);
    const kiln = { kilnId: shop.kiln.id, scheduleId: shop.bisque.id };
    const [first, second] = [
      await firingFixture(owner, kiln),
      await firingFixture(owner, kiln, { plannedFrom: '2026-03-09T20:00:00Z', plannedTo: '2026-03-10T20:00:00Z' }),
    ];
    await step(owner, first.id, 'start', { startedAt: '2026-03-08T20:00:00Z' });
    const full = await owner.post(`/api/firings/${second.id}/start`, {});
    expect(full.json()).toMatchObject({ type: '/problems/kiln-busy', firingId: first.id });
    const times = { endedAt: '2026-03-09T10:00:00Z', unloadedAt: '2026-03-10T08:00:00Z' };
    await step(owner, first.id, 'unloading', { ...times, outcomes: [] });
    const before = await owner.post(`/api/firings/${second.id}/start`, { startedAt: '2026-03-10T07:00:00Z' });
    expect(before.json().detail).toContain('was in this kiln until');
    expect((await step(owner, second.id, 'start', {})).startedAt).toBe('2026-03-10T09:00:00.000Z');
    const ahead = await firingFixture(owner, kiln, {
      plannedFrom: '2026-03-20T20:00:00Z',
      plannedTo: '2026-03-21T20:00:00Z',
    });
    const future = await owner.post(`/api/firings/${ahead.id}/start`, { startedAt: '2026-03-10T10:00:00Z' });
    expect(future.json().errors[0].pointer).toBe('#/startedAt');
  });
});
