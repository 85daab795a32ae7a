import { beforeAll, describe, expect, test } from 'vitest';
import type { Course } from '../../../src/studio/courses/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { coursePrice } from '../../../src/trade/pricing/course-price.js';
import { privatePrice } from '../../../src/trade/pricing/private-price.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let group: Plan;
let open: Plan;

beforeAll(async () => {
  home = await coursesFixture(owner);
  for (const { id } of [home.clay, home.glaze])
    await made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 100_000, costMinor: 9000 },
    });
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
  group = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), kind: 'private', groupOf: 4 });
  open = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), ...VISIT });
});

const VISIT = {
  ...{ kind: 'openStudio', minimum: 0, pieces: [], firings: [] },
  sessions: [{ purpose: 'making', minutes: 180, prepareMinutes: 15, clearMinutes: 15 }],
};
const party = (changes: object = {}) =>
  home.addCourse({ planId: group.id, priceMinor: 24_000, perHeadAboveMinor: 2500, ...changes }) as Promise<Course>;
const priceOf = async ({ id }: { id: string }) => (await owner.get(`/api/courses/${id}/price`)).json();

describe('a private session', () => {
  test('has a price for its group and one for each head above', async () => {
    const course = await party();
    expect(course).toMatchObject({ kind: 'private', groupOf: 4, perHeadAboveMinor: 2500, concessions: [] });
    const price = await priceOf(course);
    expect(price).toMatchObject({ kind: 'private', priceMinor: 24_000, perHeadAboveMinor: 2500, title: 'Two mugs' });
    expect(price.inputs).toMatchObject({ groupOf: 4, places: 8, payments: 2, vatPercent: '20' });
    expect(price.inputs).not.toHaveProperty('enrolment');
    expect(price.result).toEqual(JSON.parse(JSON.stringify(privatePrice(price.inputs))));
    expect(price.result.ladder).toHaveLength(8);
    const kept = await owner.post(`/api/courses/${course.id}/price-quotes`, {});
    expect(kept.statusCode).toBe(201);
    expect(await db.priceQuote.count({ where: { id: kept.json().id } })).toBe(1);
  });

  test('is set against its price afterwards, whether one was kept or not', async () => {
    const [kept, unkept] = [await party(), await party()];
    await owner.post(`/api/courses/${kept.id}/price-quotes`, {});
    for (const { id } of [kept, unkept]) await bookingFixture(owner, id, 6);
    await clock.set('2026-05-06T09:00:00Z');
    for (const { id } of [kept, unkept]) {
      const found = (await owner.get(`/api/courses/${id}/afterwards`)).json();
      const { quoteId } = found.plannedFrom;
      expect(quoteId === null).toBe(id === unkept.id);
      const takings = found.lines.find(({ key }: { key: string }) => key === 'takings');
      // 290.00 for six, a sixth of it VAT
      expect(takings).toMatchObject({ planned: { quantity: '6', amountMinor: 24_167 }, real: { amountMinor: 24_167 } });
      expect(found).toMatchObject({ students: 6, priceMinor: 24_000 });
    }
    await clock.set('2026-03-10T09:00:00Z');
  });

  test('charges the group what it costs, and each head above it, with one deposit', async () => {
    const six = await bookingFixture(owner, (await party()).id, 6);
    expect(six).toMatchObject({ priceMinor: 24_000 + 2 * 2500, depositMinor: 3000 });
    const charge = await db.charge.findUniqueOrThrow({ where: { id: six.chargeId }, include: { instalments: true } });
    expect(charge.description).toBe('Two mugs, 14 April 2026 to 5 May 2026, a group of 6');
    expect(charge.instalments.map(({ amountMinor }) => amountMinor).sort((a, b) => a - b)).toEqual([3000, 26_000]);
    expect(await bookingFixture(owner, (await party()).id, 2)).toMatchObject({ priceMinor: 24_000 });
  });

  test('is for one group', async () => {
    const course = await party();
    await bookingFixture(owner, course.id, 2);
    const { id } = await personFixture(owner);
    const second = await owner.post(`/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] });
    expect(second.json()).toMatchObject({ type: '/problems/course-full', placesLeft: 0 });
  });
});

describe('open studio', () => {
  test('has a price for a bench and a visit, and is held with nobody too', async () => {
    const [session] = home.body.sessions;
    const room = await made(owner, '/api/rooms', { name: 'Wheel room', benches: 8 });
    const visit = { planId: open.id, minimum: 0, sessions: [{ ...session, roomId: room.id }] };
    const price = await priceOf(await home.addCourse(visit));
    expect(price).toMatchObject({ kind: 'openStudio', inputs: { minimum: 0 }, result: { probabilityCancelled: '0' } });
    expect(price.result.ladder[0]).toMatchObject({ students: 0, held: true, costPerStudentMinor: null });
    expect(price.result).toEqual(JSON.parse(JSON.stringify(coursePrice(price.inputs))));
  });
});

describe('terms that do not fit the kind', () => {
  test.each<[string, object, string]>([
    ['a group without a number', { kind: 'private' }, '#/groupOf'],
    ['a group larger than its places', { kind: 'private', groupOf: 9 }, '#/groupOf'],
    ['a group of a course', { groupOf: 4 }, '#/groupOf'],
    [
      'concessions of a group',
      { kind: 'private', groupOf: 4, soldAt: [{ label: 'A', sharePercent: '5' }] },
      '#/soldAt',
    ],
    ['a course held with nobody', { minimum: 0 }, '#/minimum'],
    ['open studio with a minimum', { ...VISIT, minimum: 2 }, '#/minimum'],
    ['open studio of two visits', { kind: 'openStudio', minimum: 0 }, '#/sessions'],
  ])('%s: the plan is refused', async (_, changes, pointer) => {
    const answer = await owner.post('/api/course-plans', { ...planBody(home), ...changes });
    expect([answer.statusCode, answer.json().errors?.[0].pointer]).toEqual([422, pointer]);
  });

  test.each<[string, () => object, string]>([
    ['a group without a price above', () => ({ planId: group.id }), 'each person above its group'],
    ['a price above for a course', () => ({ perHeadAboveMinor: 100 }), 'no price for each person above a group'],
    [
      'concessions of a group',
      () => ({ planId: group.id, perHeadAboveMinor: 0, concessions: [{ label: 'A', priceMinor: 100 }] }),
      'Remove the concessions',
    ],
    ['a course held with nobody', () => ({ minimum: 0 }), 'Give 1 or more'],
  ])('%s: the course is refused', async (_, changes, said) => {
    const answer = await owner.post('/api/courses', { ...home.body, ...changes() });
    expect([answer.statusCode, answer.json().detail]).toEqual([422, expect.stringContaining(said)]);
  });
});

describe('firing that is included', () => {
  test('counts up to its litres, and says what becomes of the rest', async () => {
    const firingOf = async (firingIncludedLitres: string | null) => {
      const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), firingIncludedLitres });
      const { inputs } = await priceOf(await home.addCourse({ planId: plan.id }));
      return inputs.lines.find(({ key }: { key: string }) => key === 'firing-1');
    };
    const all = await firingOf(null);
    expect(all.quantity).toBe('0.029319'); // 2.454612 of 90 litres, dry, and 7.5 % of it made again
    expect(all.source.detail).toContain('ware and what is made again take 2.64 litres, at its dry size');
    const half = await firingOf('1.2');
    expect(half.quantity).toBe('0.01368'); // 1.2 of 2.571925 fired litres are in it, and so is as much of the dry ware
    expect(half.source.detail).toMatch(
      /1.2 of its 2.57 fired litres are in the price. Ware beyond that is billed to its maker/,
    );
    expect(await firingOf('2.6')).toEqual(all);
  });
});
