import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import type { FiringBill } from '../../../src/studio/firings/contract.js';
import type { MembershipUse } from '../../../src/studio/memberships/use/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody, workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { tariffFixture } from '../../support/fixtures/kilns.js';
import { kindFixture, membershipFixture } from '../../support/fixtures/memberships.js';
import { pricedFixture, saleFixture } from '../../support/fixtures/sales.js';
import { MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let plan: Plan;
beforeAll(async () => {
  home = await coursesFixture(owner);
  await tariffFixture(owner);
  plan = await made<Plan>(owner, '/api/course-plans', {
    ...{ ...planBody(home), kind: 'openStudio', minimum: 0, pieces: [], firings: [] },
    sessions: [{ purpose: 'making', minutes: 180, prepareMinutes: 10, clearMinutes: 10 }],
  });
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

let rooms = 0;
/** Three hours of open studio, £12 a bench of which £5 is the deposit, on a day of its own. */
async function visitOn(day: string, changes: object = {}) {
  const room = await made(owner, '/api/rooms', { name: `Bench room ${++rooms}`, benches: 20 });
  const sessions = [{ startsAt: `${day}T10:00:00Z`, endsAt: `${day}T13:00:00Z`, roomId: room.id }];
  const { concessions: _, ...body } = { concessions: null, ...home.body };
  const course = { ...body, planId: plan.id, title: 'Open studio', minimum: 0, priceMinor: 1200, depositMinor: 500 };
  return made<Course>(owner, '/api/courses', { ...course, sessions, ...changes });
}
async function member(kind: object, startsOn = '2026-03-01') {
  const person = await personFixture(owner);
  const { id: kindId } = await kindFixture(owner, home.standard.id, kind);
  const membership = await membershipFixture(owner, person.id, kindId, startsOn);
  return { person, membership };
}
const book = (courseId: string, ...people: { id: string }[]) =>
  owner.post(`/api/courses/${courseId}/bookings`, {
    payerId: people[0]?.id,
    attendeeIds: people.map(({ id }) => id),
  });
const booked = async (courseId: string, ...people: { id: string }[]): Promise<Booking> => {
  const answer = await book(courseId, ...people);
  expect(answer.statusCode, answer.body).toBe(201);
  return answer.json();
};
const useOf = async (id: string, month = '2026-03-01'): Promise<MembershipUse> =>
  (await owner.get(`/api/memberships/${id}/use?month=${month}`)).json();
const benchOf = async (id: string, month?: string) =>
  (await useOf(id, month)).totals.find(({ what }) => what === 'bench');

describe('a bench of open studio', () => {
  test('costs a member nothing while hours are left, then what is beyond them, seen before it is booked', async () => {
    const { person, membership } = await member({ benchMinutes: 300 });
    const [one, two, three] = [await visitOn('2026-03-12'), await visitOn('2026-03-13'), await visitOn('2026-03-14')];
    const wish = { payerId: person.id, attendeeIds: [person.id] };
    const seen = (await owner.post(`/api/courses/${one.id}/bookings/preview`, wish)).json();
    expect(seen.outcome).toMatchObject({ state: 'confirmed', priceMinor: 1200, includedMinor: 1200, owedMinor: 0 });
    const text = seen.letters[0].text.replace(/\s+/g, ' ');
    expect(text).toContain(
      'Your membership includes 3 hours of March 2026, £12 of the price. There is nothing to pay.',
    );
    expect(await benchOf(membership.id)).toMatchObject({ used: 0, left: 300 });

    expect(await booked(one.id, person)).toMatchObject({ state: 'confirmed', depositMinor: 0, owedMinor: 0 });
    expect(await benchOf(membership.id)).toMatchObject({ used: 180, left: 120, beyond: 0, beyondMinor: 0 });
    // two of its three hours are left: a third of £12 is beyond, and its deposit is no more than that
    const second = await booked(two.id, person);
    expect(second).toMatchObject({ state: 'provisional', includedMinor: 800, owedMinor: 400, depositMinor: 400 });
    expect(await booked(three.id, person)).toMatchObject({ includedMinor: 0, owedMinor: 1200, depositMinor: 500 });
    const { totals, lines } = await useOf(membership.id);
    expect(totals).toEqual([{ what: 'bench', includes: 300, used: 300, left: 0, beyond: 240, beyondMinor: 1600 }]);
    expect(
      lines.map(({ on, used, included, includedMinor, chargedMinor }) => [
        on,
        used,
        included,
        includedMinor,
        chargedMinor,
      ]),
    ).toEqual([
      ['2026-03-12', 180, 180, 1200, 0],
      ['2026-03-13', 180, 120, 800, 400],
      ['2026-03-14', 180, 0, 0, 1200],
    ]);
    const [debtor] = (await owner.get(`/api/debtors?personId=${person.id}`)).json().items;
    expect(
      debtor.charges.map((c: { description: string }) => c.description).filter((d: string) => d.startsWith('Open')),
    ).toHaveLength(2);
  });

  test('comes back with the booking: cancelled, moved, or the session called off by the owner', async () => {
    const { person, membership } = await member({ benchMinutes: 180 });
    const [one, two, other] = [await visitOn('2026-03-16'), await visitOn('2026-03-17'), await visitOn('2026-04-16')];
    const first = await booked(one.id, person);
    const cancelled = await owner.post(`/api/bookings/${first.id}/cancellation`, { reason: 'Ill' });
    expect(cancelled.json()).toMatchObject({ refundMinor: 0, keptMinor: 0 });
    expect(await benchOf(membership.id)).toMatchObject({ used: 0, left: 180 });
    const again = await booked(two.id, person);
    expect(again.includedMinor).toBe(1200);
    // moved within the month: its own hours are free for it
    const there = await visitOn('2026-03-18');
    const moved = await owner.post(`/api/bookings/${again.id}/move`, { courseId: there.id });
    expect(moved.statusCode, moved.body).toBe(201);
    expect(moved.json().booking).toMatchObject({ includedMinor: 1200, owedMinor: 0, state: 'confirmed' });
    expect(await benchOf(membership.id)).toMatchObject({ used: 180, left: 0 });
    const next = await owner.post(`/api/bookings/${moved.json().booking.id}/move`, { courseId: other.id });
    expect(next.json().booking.includedMinor).toBe(1200);
    expect(await benchOf(membership.id)).toMatchObject({ used: 0 });
    expect(await benchOf(membership.id, '2026-04-01')).toMatchObject({ used: 180 });
    const gone = await owner.post(`/api/courses/${other.id}/cancellation`, { reason: 'Closed', cause: 'other' });
    expect(gone.statusCode, gone.body).toBe(201);
    expect(await benchOf(membership.id, '2026-04-01')).toMatchObject({ used: 0 });
  });

  test('is the usual price for who is no member, on a pause, before and after, and on a course', async () => {
    const { person, membership } = await member({ benchMinutes: 600 }, '2026-03-05');
    await owner.post(`/api/memberships/${membership.id}/pauses`, { from: '2026-03-19', to: '2026-03-20' });
    expect(await booked((await visitOn('2026-03-19')).id, person)).toMatchObject({ includedMinor: 0, owedMinor: 1200 });
    expect(await booked((await home.addCourse()).id, person)).toMatchObject({ includedMinor: 0, owedMinor: 12_000 });
    await owner.post(`/api/memberships/${membership.id}/notice`, { lastDay: '2026-03-25', reason: 'Moves' });
    expect(await booked((await visitOn('2026-03-26')).id, person)).toMatchObject({ includedMinor: 0 });
    expect(await booked((await visitOn('2026-03-25')).id, person)).toMatchObject({ includedMinor: 1200 });
    const friend = await personFixture(owner);
    const both = await booked((await visitOn('2026-03-24')).id, friend, person);
    expect(both).toMatchObject({ priceMinor: 2400, includedMinor: 1200, owedMinor: 1200, depositMinor: 500 });
    const part = { reason: 'Ill', attendeeIds: [person.id] };
    const left = (await owner.post(`/api/bookings/${both.id}/cancellation`, part)).json();
    expect(left.booking).toMatchObject({ owedMinor: 1200, includedMinor: 0, depositMinor: 500 });
  });

  test('is in the way of an end or a pause on its day', async () => {
    const { person, membership } = await member({ benchMinutes: 600 });
    await booked((await visitOn('2026-03-27')).id, person);
    const refused = [
      await owner.post(`/api/memberships/${membership.id}/pauses`, { from: '2026-03-26', to: '2026-03-28' }),
      await owner.post(`/api/memberships/${membership.id}/notice`, { lastDay: '2026-03-20', reason: 'Moves' }),
    ].map((answer) => [answer.json().type, answer.json().detail]);
    const sentence =
      'Open studio on 27 March 2026 is booked as included on these days. Cancel that first, or choose other days.';
    expect(refused).toEqual([
      ['/problems/outside-membership', sentence],
      ['/problems/outside-membership', sentence],
    ]);
  });

  test('is never included twice, whatever is booked at once, and never oversold', async () => {
    const { person, membership } = await member({ benchMinutes: 180 });
    const visits = await Promise.all(
      ['2026-03-21', '2026-03-22', '2026-03-23', '2026-03-28'].map((day) => visitOn(day)),
    );
    const answers = await Promise.all(visits.map(({ id }) => book(id, person)));
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([201, 201, 201, 201]);
    expect(answers.map((answer) => answer.json().includedMinor).sort()).toEqual([0, 0, 0, 1200]);
    expect(await benchOf(membership.id)).toMatchObject({ used: 180, left: 0 });
    const one = await visitOn('2026-03-29', { places: 1 });
    const [full] = [await book(one.id, await personFixture(owner)), await book(one.id, person)].slice(1);
    expect(full?.json().type).toBe('/problems/course-full');
    const place = await db.place.findFirstOrThrow({
      where: { personId: person.id, membershipVisits: { none: {} } },
      include: { booking: { include: { course: { include: { sessions: true } } } } },
    });
    const row = {
      placeId: place.id,
      sessionId: place.booking.course.sessions[0]?.id ?? '',
      membershipId: membership.id,
    };
    const more = db.membershipVisit.create({
      data: { ...row, month: new Date('2026-03-01'), minutes: 1, includedMinor: 0 },
    });
    await expect(more).rejects.toThrow(/WB030/);
  });
});

describe('room in the kiln', () => {
  test('is taken off the bill of its maker, up to what the month includes', async () => {
    const { person, membership } = await member({ firingLitres: '2' });
    const stranger = await personFixture(owner);
    const fire = async () => {
      const shop = await workshopFixture(owner);
      const firing = await firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id });
      const ware = await Promise.all(
        [person, stranger].map(({ id }) => piecesFixture(owner, id, { stage: 'glazed', ware: [{ ...MUG, count: 1 }] })),
      );
      await firedFixture(owner, firing.id, ware.flat());
      const { shares } = await step<{ shares: { personId: string; weightMm3: number }[] }>(
        owner,
        firing.id,
        'settlement',
        {},
      );
      const { items } = await step<{ items: FiringBill[] }>(owner, firing.id, 'billing', {});
      return { items, mm3: shares.find(({ personId }) => personId === person.id)?.weightMm3 ?? 0 };
    };
    const first = await fire();
    const own = first.items.find(({ personId }) => personId === person.id);
    expect(own).toMatchObject({ includedMinor: own?.grossMinor });
    expect(first.items.find(({ personId }) => personId === stranger.id)?.includedMinor).toBe(0);
    const second = await fire();
    const beyond = second.items.find(({ personId }) => personId === person.id);
    const left = 2_000_000 - first.mm3;
    expect(left).toBeLessThan(second.mm3);
    const paid = Math.round(((beyond?.grossMinor ?? 0) * (second.mm3 - left)) / second.mm3);
    expect((beyond?.grossMinor ?? 0) - (beyond?.includedMinor ?? 0)).toBe(paid);
    const { totals, lines } = await useOf(membership.id);
    expect(totals).toMatchObject([{ what: 'firing', includes: 2, used: 2, left: 0, beyondMinor: paid }]);
    expect(lines).toHaveLength(2);
    const [debtor] = (await owner.get(`/api/debtors?personId=${person.id}`)).json().items;
    expect(debtor.firingOwedMinor).toBe(paid);
  });
});

describe('clay', () => {
  test('costs a member nothing up to what the month includes; what is beyond comes back first', async () => {
    const clay = await pricedFixture(owner, home.standard.id, { name: 'Heron buff' });
    const other = await pricedFixture(owner, home.standard.id, { name: 'Wren smooth' });
    const { person, membership } = await member({ clayId: clay.id, clayGrams: 3000 });
    const sold = await saleFixture(owner, person.id, clay.id, { quantity: 5000 });
    expect(sold).toMatchObject({ grossMinor: 2100, includedQuantity: 3000, creditedMinor: 1260, owedMinor: 840 });
    expect(await saleFixture(owner, person.id, other.id)).toMatchObject({ includedQuantity: 0, owedMinor: 840 });
    const back = async (quantity: number) =>
      (await owner.post(`/api/sales/${sold.id}/takings-back`, { quantity, reason: 'Not needed' })).json();
    expect(await back(1500)).toMatchObject({ keptQuantity: 3500, owedMinor: 210 });
    expect(await useOf(membership.id)).toMatchObject({
      totals: [{ what: 'clay', used: 3000, left: 0, beyond: 500, beyondMinor: 210 }],
    });
    expect(await back(1500)).toMatchObject({ keptQuantity: 2000, owedMinor: 0 });
    expect(await useOf(membership.id)).toMatchObject({ totals: [{ what: 'clay', used: 2000, left: 1000, beyond: 0 }] });
    expect(await saleFixture(owner, person.id, clay.id)).toMatchObject({ includedQuantity: 1000, owedMinor: 420 });
    await clock.set('2026-04-02T09:00:00Z');
    expect(await saleFixture(owner, person.id, clay.id)).toMatchObject({ includedQuantity: 2000, owedMinor: 0 });
  });
});
