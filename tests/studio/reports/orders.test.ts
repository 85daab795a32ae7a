import pg from 'pg';
import { expect, test, vi } from 'vitest';
import type { Today } from '../../../src/studio/reports/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { firingFixture } from '../../support/fixtures/firings.js';
import { MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture } from '../../support/fixtures.js';

const { owner, tutor, clock } = await testApp();
const home = await coursesFixture(owner);

const todayAt = async (instant: string, caller = owner): Promise<Today> => {
  await clock.set(instant);
  const answer = await caller.get('/api/today');
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json();
};
const names = ({ orders }: Today) => orders.map(({ name }) => name);

/** The statements that one look at today sends to the database. */
async function statements(): Promise<number> {
  const query = vi.spyOn(pg.Client.prototype, 'query');
  await todayAt('2026-03-10T09:00:00Z');
  const { length } = query.mock.calls;
  query.mockRestore();
  return length;
}

// Clay is drawn on 14 April and glaze on 5 May; both take five days to come, and nothing is on the shelf.
test('what must be ordered within fourteen days, or should have been, and whether that is sure', async () => {
  expect((await todayAt('2026-03-10T09:00:00Z')).orders).toEqual([]); // no course, no need
  const course = await home.addCourse();
  const all = (await owner.get('/api/outlook')).json().items;
  const clay = all.find(({ materialId }: { materialId: string }) => materialId === home.clay.id);
  const lastDay = clay.orderBy as string;
  expect(lastDay <= '2026-04-09').toBe(true);
  const at = (days: number) => new Date(Date.parse(`${lastDay}T12:00:00Z`) - days * 86_400_000).toISOString();
  expect(names(await todayAt(at(15)))).not.toContain(clay.name);
  const soon = await todayAt(at(14));
  expect(soon.orders.find(({ materialId }) => materialId === home.clay.id)).toEqual({
    ...{
      materialId: home.clay.id,
      name: clay.name,
      unit: 'g',
      isMixed: false,
      packs: clay.packs,
      packQuantity: 10_000,
    },
    ...{ orderBy: lastDay, shortOn: '2026-04-14', sure: false }, // as likely as not, though nobody has booked
  });
  await payFor(owner, await bookingFixture(owner, course.id), 3000);
  expect((await todayAt('2026-04-13T09:00:00Z', tutor)).orders[0]).toMatchObject({ orderBy: lastDay, sure: true });

  await clock.set('2026-04-13T10:00:00Z');
  const lot = { supplier: 'Hollow Hill Clays', receivedOn: '2026-04-13', quantity: 100_000, costMinor: 9000 };
  await owner.post(`/api/materials/${home.clay.id}/lots`, lot);
  expect(names(await todayAt('2026-04-13T10:00:00Z'))).not.toContain(clay.name);
});

test('what was drawn beyond the books asks for a count, until it is counted', async () => {
  await clock.set('2026-04-13T11:00:00Z');
  const counts = async () => (await todayAt('2026-04-13T11:00:00Z', tutor)).counts;
  expect(await counts()).toEqual([]);
  await owner.post(`/api/materials/${home.glaze.id}/draws`, { quantity: 10, note: 'Test tiles' });
  expect(await counts()).toEqual([{ materialId: home.glaze.id, name: home.glaze.name }]);
  await owner.post(`/api/materials/${home.glaze.id}/counts`, { counted: 50, explanation: 'Found behind the kiln' });
  expect(await counts()).toEqual([]);
});

test('asks the database as often for a full studio as for a small one', async () => {
  await clock.set('2026-03-10T09:00:00Z');
  const fill = async (day: number) => {
    const maker = await personFixture(owner);
    for (const stage of ['greenware', 'dry', 'bisque', 'glazed'])
      await piecesFixture(owner, maker.id, { stage, ware: [{ ...MUG, count: 3 }] });
    const course = await home.addCourse();
    await bookingFixture(owner, course.id, 2);
    const on = `2026-03-${10 + day}`;
    const plan = { plannedFrom: `${on}T12:00:00Z`, plannedTo: `${on}T20:00:00Z` };
    await firingFixture(owner, { kilnId: home.kiln.id, scheduleId: home.bisque.id }, plan);
  };
  await fill(0);
  const small = await statements();
  for (let day = 1; day <= 3; day++) await fill(day);
  expect(await statements()).toBe(small);
  expect(small).toBeLessThan(75); // a limit, so that nobody adds one for each row unseen; far fewer would do
});
