import { beforeAll, describe, expect, test } from 'vitest';
import type { OutlookItem } from '../../../src/studio/stock-outlook/contract.js';
import { distributionOfFurtherBookings } from '../../../src/trade/stock/demand.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { glazeFixture } from '../../support/fixtures/materials.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let courseId: string;
const MUGS_GRAMS = 1139; // what two mugs draw on the day, by the hand calculation in planning.test.ts; what comes back of it comes later

const lot = (materialId: string, quantity: number) =>
  made(owner, `/api/materials/${materialId}/lots`, {
    ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity, costMinor: 9000 },
  });
const items = async (): Promise<OutlookItem[]> => (await tutor.get('/api/outlook')).json().items;
const itemOf = async (materialId: string) =>
  (await items()).find((item) => item.materialId === materialId) as OutlookItem;

beforeAll(async () => {
  home = await coursesFixture(owner);
  courseId = (await home.addCourse()).id;
  await lot(home.clay.id, 100_000);
  await lot(home.glaze.id, 10_000);
  await bookingFixture(owner, courseId, 4);
});

describe('the outlook', () => {
  test('holds what is on the shelf against those booked and those expected', async () => {
    const clay = await itemOf(home.clay.id);
    expect(clay).toMatchObject({
      ...{ onHand: 100_000, packs: 0, orderBy: null, packQuantity: 10_000, leadTimeDays: 5, asksForCount: false },
      shortOn: { oneInTen: null, oneInTwo: null, sure: null },
    });
    expect(clay.rows).toMatchObject([
      { day: '2026-04-14', leftIfBooked: 100_000 - 4 * MUGS_GRAMS, courseIds: [courseId] },
    ]);
    expect(clay.needs[0]).toMatchObject({ courseId, day: '2026-04-14', booked: 4 * MUGS_GRAMS });
    expect(clay.needs[0]?.expected).toBeGreaterThan(4 * MUGS_GRAMS);
    expect(clay.needs[0]?.expected).toBeLessThan(8 * MUGS_GRAMS);
    expect((await itemOf(home.glaze.id)).needs[0]?.day).toBe('2026-05-05'); // the glazing session
  });

  test('tells how likely it runs short, how much to order, and by when', async () => {
    await owner.post(`/api/materials/${home.clay.id}/draws`, { quantity: 94_000, note: 'A mural' });
    const clay = await itemOf(home.clay.id);
    const { enrolmentAlpha, enrolmentBeta } = (await owner.get('/api/studio')).json();
    const more = distributionOfFurtherBookings(8, 4, enrolmentAlpha, enrolmentBeta);
    const six = more.slice(2).reduce((sum, p) => sum + p, 0); // 6000 g are enough for five, not for six
    expect(Number(clay.rows[0]?.shortChance)).toBeCloseTo(six, 3);
    expect(six).toBeGreaterThan(0.1);
    expect(clay.shortOn).toMatchObject({ oneInTen: '2026-04-14', sure: null });
    expect(clay).toMatchObject({ packs: 1, orderBy: '2026-04-08' }); // five days of waiting before 13 April
    expect((await items())[0]?.materialId).toBe(home.clay.id); // what must be ordered stands first
  });

  test('counts what the course has drawn already', async () => {
    const before = await itemOf(home.clay.id);
    await owner.post(`/api/courses/${courseId}/draws`, { materialId: home.clay.id, quantity: 1000 });
    const after = await itemOf(home.clay.id);
    expect(after.needs[0]?.booked).toBe((before.needs[0]?.booked ?? 0) - 1000);
    expect(after.rows[0]?.leftIfBooked).toBe(before.rows[0]?.leftIfBooked);
  });

  test('spreads clay over the making sessions by their minutes; what is overdue is needed today', async () => {
    const body = planBody(home);
    const [making, glazing] = body.sessions;
    const plan = await made(owner, '/api/course-plans', { ...body, sessions: [making, making, glazing] });
    const at = (day: string, hours: number) => ({
      startsAt: `${day}T10:00:00Z`,
      endsAt: `${day}T${10 + hours}:00:00Z`,
      roomId: home.room.id,
    });
    const sessions = [at('2026-06-02', 1), at('2026-06-09', 3), at('2026-06-23', 2)];
    const three = await made(owner, '/api/courses', { ...home.body, planId: plan.id, title: 'Three', sessions });
    await bookingFixture(owner, three.id, 4);
    const days = async () =>
      (await itemOf(home.clay.id)).rows.flatMap(({ day, leftIfBooked, courseIds }) =>
        courseIds.includes(three.id) ? [[day, leftIfBooked]] : [],
      );
    const left = (await itemOf(home.clay.id)).rows.find(({ day }) => day === '2026-04-14')?.leftIfBooked ?? 0;
    expect(await days()).toEqual([
      ['2026-06-02', left - MUGS_GRAMS],
      ['2026-06-09', left - 4 * MUGS_GRAMS],
    ]);
    await db.booking.updateMany({ where: { courseId: three.id }, data: { heldUntil: new Date('2026-07-01') } });
    await clock.set('2026-06-04T09:00:00Z');
    const { onHand, rows, needs } = await itemOf(home.clay.id);
    expect(rows.map(({ day, leftIfBooked }) => [day, leftIfBooked])).toEqual([
      ['2026-06-04', onHand - MUGS_GRAMS],
      ['2026-06-09', onHand - 4 * MUGS_GRAMS],
    ]);
    expect(needs[0]?.expected).toBe(needs[0]?.booked); // it has begun: nobody else can book
    await clock.set('2026-03-10T09:00:00Z');
  });

  test('reckons with the batches to come: what runs short of a mix is drawn of its parts, and so is a mix within it', async () => {
    const named = (name: string) => glazeFixture(owner, { name, unit: 'g', dryGramsPerMl: null });
    const [base, stain] = [await named('Base'), await named('Stain')];
    const half = await named('Half and half');
    const mixed = (productId: string, ...parts: string[]) =>
      made(owner, '/api/mixes', {
        ...{ productId, weights: 'wet', parts: parts.map((materialId) => ({ materialId, share: '50' })) },
      });
    await mixed(half.id, base.id, stain.id);
    await mixed(home.glaze.id, half.id, base.id);
    const own = await itemOf(home.glaze.id);
    const [need] = own.needs;
    expect((await items()).some(({ materialId }) => materialId === base.id)).toBe(false); // 10 kg of it are there

    await owner.post(`/api/materials/${home.glaze.id}/draws`, { quantity: 10_000, note: 'Spilt' });
    const through = await itemOf(base.id);
    const inHalf = await itemOf(half.id);
    expect(inHalf.needs[0]).toMatchObject({ courseId: need?.courseId, day: need?.day, mixes: [own.name] });
    expect(through.needs[0]?.mixes).toEqual([own.name, 'Half and half']);
    const booked = (item: OutlookItem) => item.needs.reduce((sum, one) => sum + one.booked, 0);
    const ofAll = booked(own);
    expect(Math.abs(booked(inHalf) - ofAll / 2)).toBeLessThan(2);
    expect(Math.abs(booked(through) - (ofAll * 3) / 4)).toBeLessThan(3); // half of it, and half of the half
    expect(Math.abs(booked(await itemOf(stain.id)) - ofAll / 4)).toBeLessThan(3);
    expect(through).toMatchObject({ shortOn: { sure: need?.day } });
    expect(through.packs).toBeGreaterThan(0);
    expect([through.mixId, inHalf.mixId]).toEqual([null, expect.any(String)]); // one is bought, the other mixed
    expect((await itemOf(home.glaze.id)).mixId).toEqual(expect.any(String));

    await lot(half.id, 5000); // enough of the inner mix for all who may come
    expect((await items()).some(({ materialId }) => materialId === stain.id)).toBe(false);
    expect((await itemOf(base.id)).needs[0]?.mixes).toEqual([own.name]);
    await lot(home.glaze.id, 10_000);
    expect((await items()).some(({ materialId }) => [base.id, half.id].includes(materialId))).toBe(false);
  });

  test('does not count on what its shelf life will have ended, and says how much that is', async () => {
    const {
      id,
      onHand: _,
      asksForCount: __,
      lots: ___,
      moves: ____,
      ...glaze
    } = (await owner.get(`/api/materials/${home.glaze.id}`)).json();
    const before = await itemOf(id);
    const keeps = (shelfLifeDays: number | null) => owner.put(`/api/materials/${id}`, { ...glaze, shelfLifeDays });
    await keeps(40); // received on 2 March: until 11 April, weeks before the glazing session of 5 May
    const spoilt = await itemOf(id);
    expect(before).toMatchObject({ spoils: [], packs: 0, onHand: 10_000 });
    expect(spoilt.spoils).toEqual([{ day: '2026-04-11', quantity: 10_000 }]);
    expect(spoilt.shortOn.sure).toBe('2026-05-05');
    expect(spoilt.rows.at(-1)?.leftIfBooked).toBe((before.rows.at(-1)?.leftIfBooked ?? 0) - 10_000);
    expect(spoilt.packs).toBeGreaterThan(0);
    await keeps(null);
  });

  test('forgets holds that ran out, and courses that are over', async () => {
    await clock.set('2026-03-20T09:00:00Z');
    expect((await itemOf(home.clay.id)).needs[0]?.booked).toBe(0);
    await clock.set('2026-07-01T09:00:00Z');
    expect(await items()).toEqual([]);
    await clock.set('2026-03-10T09:00:00Z');
  });
});
