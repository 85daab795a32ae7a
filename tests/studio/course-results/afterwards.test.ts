import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import type { CourseResults } from '../../../src/studio/course-results/contract.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import { roundHalfUp } from '../../../src/trade/money/money.js';
import { profitTableAt } from '../../../src/trade/pricing/course-price.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { materialFixture } from '../../support/fixtures/materials.js';
import { MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { made, personFixture } from '../../support/fixtures.js';

const { owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let course: Course;
let swapped: Course;
let quote: { id: string; inputs: Parameters<typeof profitTableAt>[0] };
let url: string;

const lot = (materialId: string, quantity: number, costMinor: number) =>
  made(owner, `/api/materials/${materialId}/lots`, {
    ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity, costMinor },
  });
const whatItWas = async (): Promise<CourseResults> => (await owner.get(url)).json();
const line = ({ lines }: CourseResults, key: string) => lines.find((each) => each.key.startsWith(key));
const reclaimed = (quantity: number, of = course.id) =>
  owner.post(`/api/courses/${of}/reclaims`, { materialId: home.clay.id, quantity });
const hours = (what: string, minutes: number, more: object = {}) =>
  made(owner, `/api/courses/${course.id}/hours`, { what, minutes, on: '2026-05-05', ...more });

beforeAll(async () => {
  home = await coursesFixture(owner);
  await lot(home.clay.id, 100_000, 9000);
  await lot(home.glaze.id, 10_000, 8000);
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
  course = await home.addCourse();
  url = `/api/courses/${course.id}/afterwards`;
  swapped = await home.addCourse();
  await bookingFixture(owner, swapped.id, 4);
  quote = await made(owner, `/api/courses/${course.id}/price-quotes`, {});
  const byCard = await bookingFixture(owner, course.id, 2);
  await owner.post('/api/payments', {
    ...{ personId: byCard.payerId, method: 'card', for: [{ chargeId: byCard.chargeId, amountMinor: 24_000 }] },
  });
  await payFor(owner, await bookingFixture(owner, course.id, 3), 36_000);
  const leaves = await bookingFixture(owner, course.id, 1);
  await payFor(owner, leaves, 3000);
  const cancelled = await owner.post(`/api/bookings/${leaves.id}/cancellation`, {
    ...{ reason: 'Ill', refundMinor: 2000, method: 'cash' },
  });
  expect(cancelled.statusCode).toBe(201);
});

describe('a course afterwards', () => {
  test('is not known before it begins', async () => {
    expect((await owner.get(url)).json()).toMatchObject({ type: '/problems/course-running', status: 409 });
  });

  test('is the owner’s to know, and is not that of a course that does not exist', async () => {
    expect((await tutor.get(url)).statusCode).toBe(403);
    expect((await owner.get(`/api/courses/${randomUUID()}/afterwards`)).statusCode).toBe(404);
  });

  test('says of each line of which nothing real is known how to know it, and counts it on neither side', async () => {
    await clock.set('2026-04-14T18:30:00Z'); // half an hour into the first session
    const found = await whatItWas();
    expect(found.students).toBe(5);
    expect(found.plannedFrom).toMatchObject({ quoteId: quote.id });
    const [clay, glaze] = [`clay-${home.clay.id}`, `glaze-${home.glaze.id}`];
    expect([...found.unknown].sort()).toEqual(
      [
        ...[clay, `${clay}-reclaim`, glaze, 'firing-bisque', 'firing-glaze', 'room-around', 'advertising'],
        ...['teaching', 'preparing', 'clearing', 'beside'].map((what) => `own-time-${what}`),
      ].sort(),
    );
    expect(line(found, clay)).toMatchObject({ real: null, differenceMinor: null });
    expect(line(found, clay)?.howToKnow).toContain('Note what it used');
    expect(line(found, 'firing-bisque')?.howToKnow).toContain('Take its ware in');
    expect(line(found, 'advertising')?.howToKnow).toContain('accountant');
    expect(line(found, 'room')).toMatchObject({ real: { quantity: '2.5', amountMinor: 1500 } }); // one session of two
    // takings 500.00, card 12.20, room 27.00 in sessions, as planned; nothing of the rest
    expect(found.planned).toEqual({ resultMinor: 50_000 - 1220 - 2700, hours: '0', payPerHourMinor: null });
    expect(found.stillOpen).toEqual(['One session is still to come.']);
    expect(found.breakages).toMatchObject({ made: 0, realPercent: null, plannedPercent: '13.043478' }); // 15 of 115
  });

  /** A glaze firing of 60 kWh; the first piece breaks, the second must be fired again. */
  async function glazeFired(ware: { id: string }[]) {
    const glaze = await firingFixture(
      owner,
      { kilnId: home.kiln.id, scheduleId: home.stoneware.id },
      { plannedFrom: '2026-03-12T20:00:00Z', plannedTo: '2026-03-13T20:00:00Z' },
    );
    await step(owner, glaze.id, 'loading', { placements: ware.map(({ id }) => ({ pieceId: id, layer: 1 })) });
    await step(owner, glaze.id, 'readings', { at: '2026-03-12T20:00:00Z', kwh: '500' });
    await step(owner, glaze.id, 'start', { startedAt: '2026-03-12T20:00:00Z' });
    await step(owner, glaze.id, 'readings', { at: '2026-03-13T08:00:00Z', kwh: '560' });
    await step(owner, glaze.id, 'unloading', {
      ...{ endedAt: '2026-03-13T08:00:00Z', unloadedAt: '2026-03-13T20:00:00Z' },
      outcomes: ware.map(({ id }, i) => ({ pieceId: id, outcome: i === 0 ? 'broken' : i === 1 ? 'refire' : 'good' })),
    });
    await step(owner, glaze.id, 'settlement', {});
  }

  test('knows what was drawn, fired, worked and paid, as a hand calculation has it', async () => {
    await clock.set('2026-05-06T09:00:00Z');
    const draw = (materialId: string, quantity: number) =>
      owner.post(`/api/courses/${course.id}/draws`, { materialId, quantity });
    await draw(home.clay.id, 4000);
    await draw(home.clay.id, 2000);
    await draw(home.glaze.id, 500);
    await reclaimed(500);
    await hours('teaching', 300);
    await hours('teaching', -20, { note: 'We ended early' });
    await hours('preparing', 60);
    await hours('clearing', 45);
    await hours('kiln', 120);
    await hours('messages', 90);

    const maker = await personFixture(owner);
    const mugs = { stage: 'dry', ware: [{ ...MUG, count: 10 }] };
    const ware = await piecesFixture(owner, maker.id, { ...mugs, courseId: course.id, firingPaidBy: 'course' });
    const strangers = await piecesFixture(owner, maker.id, mugs);
    const other = await workshopFixture(owner);
    const bisque = await firingFixture(owner, { kilnId: other.kiln.id, scheduleId: other.bisque.id });
    await firedFixture(owner, bisque.id, [...ware, ...strangers]);
    expect(line(await whatItWas(), 'firing-bisque')).toMatchObject({ real: null });
    expect(line(await whatItWas(), 'firing-bisque')?.howToKnow).toBe(
      'Firing 1 is not settled yet. Work out the fees first.',
    );
    await step(owner, bisque.id, 'settlement', {});

    await noted(owner, ware, 'glazed');
    await glazeFired(ware);

    const found = await whatItWas();
    const real = (key: string) => [line(found, key)?.real?.quantity, line(found, key)?.real?.amountMinor];
    // asked 240.00 + 360.00 and 10.00 kept of 30.00; VAT in them 40.00, 60.00 and 1.67
    expect(real('takings')).toEqual(['5', 61_000 - 4000 - 6000 - 167]);
    expect(line(found, 'takings')?.real?.detail).toContain('; £10 of it was kept from cancelled bookings.');
    expect(real('card-fees')).toEqual(['1', 428]); // 1.7 % of 240.00 and 0.20
    expect(real('clay')).toEqual(['6', 540]); // 90.00 for 100 kg
    // what comes back is compared with what was to come back, not with what was weighed out
    expect(real(`clay-${home.clay.id}-reclaim`)).toEqual(['-0.5', -45]);
    // 8 % of 1139 g for each of 5, at 0.90 a kilogram
    expect(line(found, `clay-${home.clay.id}-reclaim`)?.planned).toEqual({ quantity: '-0.455', amountMinor: -41 });
    expect(line(found, 'clay')?.planned).toEqual({ quantity: '5.695', amountMinor: 513 });
    expect(real('glaze')).toEqual(['0.5', 400]); // 80.00 for 10 kg
    // 86.4 kWh at 0.30 and 3.00 of wear, half of the ware the course's
    expect(real('firing-bisque')).toEqual(['0.5', 1446]);
    expect(line(found, 'firing-bisque')?.real?.detail).toContain('Firing 1 is settled: 43.2 kWh');
    expect(line(found, 'firing-bisque')?.real?.detail).toMatch(/which was \d+% full; the price uses its usual fill\./);
    expect(real('firing-glaze')).toEqual(['1', 2300]); // 60 kWh and 5.00 of wear; the piece that broke was fired too
    expect(real('room')).toEqual(['4.5', 2700]);
    expect(real('room-around')).toEqual(['1.75', 1050]);
    expect(real('own-time-teaching')).toEqual(['4.666667', 11_200]);
    expect(real('own-time-preparing')).toEqual(['1', 2400]);
    expect(real('own-time-clearing')).toEqual(['0.75', 1800]);
    expect(real('own-time-beside')).toEqual(['3.5', 8400]);
    expect(line(found, 'own-time-beside')?.planned).toEqual({ quantity: '4.833335', amountMinor: 11_600 });
    expect(found.unknown).toEqual(['advertising']);
    // 508.33 - 4.28 - 5.40 + 0.45 - 4.00 - 14.46 - 23.00 - 27.00 - 10.50 = 420.14, in 9.916667 hours at 24.00
    expect(found.real).toEqual({ resultMinor: 42_014 - 23_800, hours: '9.916667', payPerHourMinor: 4237 });
    expect(found.breakages).toMatchObject({ made: 10, lost: 1, firedAgain: 1, realPercent: '10' });
    expect(found.stillOpen).toEqual(['The course is not completed yet.', 'One piece waits for a firing.']);
  });

  test('does not know what a kind of firing cost while another of it is to come', async () => {
    const { items } = (await owner.get(`/api/pieces?stage=glazed`)).json();
    const again = await firingFixture(
      owner,
      { kilnId: home.kiln.id, scheduleId: home.stoneware.id },
      { plannedFrom: '2026-05-08T20:00:00Z', plannedTo: '2026-05-09T20:00:00Z' },
    );
    await step(owner, again.id, 'loading', { placements: [{ pieceId: items[0].id, layer: 1 }] });
    expect(line(await whatItWas(), 'firing-glaze')).toMatchObject({ real: null, differenceMinor: null });
    await step(owner, again.id, 'loading', { placements: [] });
    expect(line(await whatItWas(), 'firing-glaze')).toMatchObject({ real: { amountMinor: 2300 } });
  });

  test('is planned as the price that was kept, at the students who came, and everything adds up', async () => {
    await lot(home.clay.id, 100_000, 90_000); // dearer clay is not in the price that was kept
    await made(owner, `/api/courses/${course.id}/price-quotes`, {}); // nor is one kept afterwards
    await clock.set('2026-05-06T09:01:00Z');
    const found = await whatItWas();
    expect(found.plannedFrom.quoteId).toBe(quote.id);
    const rung = profitTableAt(quote.inputs, '12000').ladder[4];
    expect(found.wholePlanMinor).toBe(roundHalfUp(rung?.resultMinor ?? ''));
    expect(found.planned.resultMinor - 2000).toBe(found.wholePlanMinor); // advertising is in neither
    expect(found.real.resultMinor - found.planned.resultMinor).toBe(found.differenceMinor);
    expect(found.because.reduce((sum, each) => sum + each.differenceMinor, 0)).toBe(found.differenceMinor);
    const effects = found.because.map(({ differenceMinor }) => Math.abs(differenceMinor));
    expect(effects).toEqual([...effects].sort((a, b) => b - a));
    expect(found.because[0]).toMatchObject({ key: 'own-time-beside', differenceMinor: 3200 });
  });

  test('counts what the plan doesn’t name, tutors’ hours apart, and says where no price was kept', async () => {
    const slip = await materialFixture(owner, { kind: 'slip' });
    await lot(slip.id, 1000, 700);
    const second = await home.addCourse();
    await clock.set('2026-06-01T09:00:00Z');
    await owner.post(`/api/courses/${second.id}/draws`, { materialId: slip.id, quantity: 300 });
    await owner.post(`/api/courses/${second.id}/draws`, { materialId: home.clay.id, quantity: 1000 });
    const { id: staffMemberId } = (await owner.get('/api/staff'))
      .json()
      .items.find((s: { role: string }) => s.role === 'tutor');
    await made(owner, `/api/courses/${second.id}/hours`, {
      what: 'teaching',
      minutes: 60,
      on: '2026-05-05',
      staffMemberId,
    });
    const found: CourseResults = (await owner.get(`/api/courses/${second.id}/afterwards`)).json();
    expect(found.plannedFrom).toMatchObject({ quoteId: null, detail: expect.stringContaining("Today's figures") });
    expect(line(found, 'other-')).toMatchObject({
      planned: { quantity: '0', amountMinor: 0 },
      real: { quantity: '0.3', amountMinor: 210 },
      differenceMinor: -210,
    });
    expect(found).toMatchObject({ students: 0, othersMinutes: 60 });
    expect(found.unknown).toEqual(['sunk']); // nobody came
    expect(line(found, 'takings')).toMatchObject({ real: { amountMinor: 0 } });
  });
});

describe('what the next plan should assume', () => {
  const proposed = async () => {
    const answer = await owner.get(`/api/course-plans/${home.plan.id}/proposals`);
    expect(answer.statusCode).toBe(200);
    const { courses, proposals } = answer.json();
    return { courses, of: (key: string) => proposals.find((p: { key: string }) => p.key.startsWith(key)) };
  };

  test('is the plan itself while no course is completed', async () => {
    const { courses, of } = await proposed();
    expect(courses).toBe(0);
    expect(of('clay')).toMatchObject({ planned: '1139', mean: null, courses: 0, proposed: '1139', unit: 'g' });
    expect(of('losses')).toMatchObject({ planned: '13.043478', mean: null, proposed: '13.043478' });
  });

  test('is learnt from what was measured, the plan’s own figure counted as one course', async () => {
    const before = (await owner.get(`/api/course-plans/${home.plan.id}`)).json();
    expect((await owner.post(`/api/courses/${course.id}/completion`)).statusCode).toBeLessThan(300);
    const { courses, of } = await proposed();
    expect(courses).toBe(1);
    // 6000 g for 5 students
    expect(of('clay')).toMatchObject({ planned: '1139', mean: '1200', courses: 1, proposed: '1169.5' });
    // 500 g of 6000 g, and the settings' 8 %
    expect(of('reclaim')).toMatchObject({
      planned: '8',
      mean: '8.333333',
      courses: 1,
      proposed: '8.166667',
      unit: '%',
    });
    expect(of('own-time-teaching')).toMatchObject({ planned: '4.5', mean: '4.666667', proposed: '4.583334' });
    // 240 minutes and 10 for each of 5 students
    expect(of('own-time-beside')).toMatchObject({ planned: '4.833333', mean: '3.5' });
    // 598 minutes of 9 kW at 50 %; the meter: 86.4
    expect(of('kwh-bisque')).toMatchObject({ planned: '44.85', mean: '86.4', proposed: '65.625' });
    // 1 of 10, and the plan's 1.3043478 of another 10
    expect(of('losses')).toMatchObject({ mean: '10', courses: 1, proposed: '11.521739' });
    expect((await owner.get(`/api/course-plans/${home.plan.id}`)).json()).toEqual(before); // nothing is changed by it
  });

  test('takes a glaze that was drawn in its stead for none of the planned one, and gives a band', async () => {
    const rust = await materialFixture(owner, { kind: 'glaze' });
    await lot(rust.id, 1000, 900);
    for (const [materialId, quantity] of [
      [rust.id, 400],
      [home.clay.id, 4000],
    ] as const)
      await owner.post(`/api/courses/${swapped.id}/draws`, { materialId, quantity });
    const found: CourseResults = (await owner.get(`/api/courses/${swapped.id}/afterwards`)).json();
    expect(line(found, `glaze-${home.glaze.id}`)).toMatchObject({ real: { quantity: '0', amountMinor: 0 } });
    expect(line(found, `other-${rust.id}`)).toMatchObject({ real: { quantity: '0.4', amountMinor: 360 } });
    await owner.post(`/api/courses/${swapped.id}/completion`);
    const { courses, of } = await proposed();
    expect(courses).toBe(2);
    expect(of(`glaze-${home.glaze.id}`)).toMatchObject({ mean: '50', courses: 2 }); // 100 g and none
    expect(of(`other-${rust.id}`)).toMatchObject({ planned: '0', mean: '50', courses: 2, proposed: '33.333333' });
    // 1200 g and 1000 g for each student, and the plan's 1139 ± 113.9 as a third: t(0.9, 3) = 1.63774 times
    // √((113.9² + 2 · 100² + 2/3 · 39²) / 3 / 3) = 61.452, about 1113
    expect(of('clay')).toMatchObject({ mean: '1100', proposed: '1113' });
    expect(Number(of('clay').low)).toBeCloseTo(1012.358, 2);
    expect(Number(of('clay').high)).toBeCloseTo(1213.642, 2);
    expect(of('reclaim')).toMatchObject({ courses: 1 }); // of the other nothing was noted, which is not nothing
  });

  test('is the owner’s to know, and is not that of a plan that does not exist', async () => {
    expect((await tutor.get(`/api/course-plans/${home.plan.id}/proposals`)).statusCode).toBe(403);
    expect((await owner.get(`/api/course-plans/${randomUUID()}/proposals`)).statusCode).toBe(404);
  });
});
