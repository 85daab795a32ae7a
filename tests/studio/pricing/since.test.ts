import { beforeAll, describe, expect, test } from 'vitest';
import { newId } from '../../../src/http/ids.js';
import type { PriceSince } from '../../../src/studio/pricing/contract.js';
import { Decimal } from '../../../src/trade/money/money.js';
import { comparePrices } from '../../../src/trade/pricing/compare-prices.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let course: { id: string };
let group: { id: string };

const lot = (materialId: string, costMinor: number) =>
  made(owner, `/api/materials/${materialId}/lots`, {
    ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-09', quantity: 100_000, costMinor },
  });
const stored = (inputs: object, day: string) =>
  db.priceQuote.create({
    data: { id: newId(), courseId: course.id, inputs, result: {}, computedAt: new Date(`${day}T09:00:00Z`) },
  });
/** As such a price was stored before its lines had kinds. */
const firstVersion = (inputs: { lines: Record<string, unknown>[] }) => ({
  ...inputs,
  lines: inputs.lines.map(({ kind: _, materialId, use, isReclaim, firing, wholeLoads, ...line }) => line),
});
const priceOf = async ({ id }: { id: string }) => (await owner.get(`/api/courses/${id}/price`)).json();

beforeAll(async () => {
  home = await coursesFixture(owner);
  for (const { id } of [home.clay, home.glaze]) await lot(id, 9000);
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
  course = await home.addCourse();
  const plan = await made<{ id: string }>(owner, '/api/course-plans', {
    ...planBody(home),
    ...{ kind: 'private', groupOf: 4 },
  });
  group = await home.addCourse({ planId: plan.id, priceMinor: 24_000, perHeadAboveMinor: 2500 });
});

describe('what has moved since a price was saved', () => {
  test('is nothing before any was', async () => {
    expect((await priceOf(course)).since).toBeNull();
    expect((await priceOf(group)).since).toBeNull();
  });

  test('is no line at all as long as nothing moved', async () => {
    for (const { id } of [course, group]) {
      const saved = await owner.post(`/api/courses/${id}/price-quotes`, {});
      expect(saved.json()).not.toHaveProperty('since');
      const { since, result } = await priceOf({ id });
      expect(since).toMatchObject({ quoteId: saved.json().id, rows: [], fairPriceMinor: result.fairPriceMinor });
    }
  });

  test('names a dearer delivery by its line, for a course and for a group', async () => {
    await lot(home.clay.id, 90_000); // a price goes by the latest delivery
    for (const of of [course, group]) {
      const { since, result }: { since: PriceSince; result: { fairPriceMinor: number } } = await priceOf(of);
      const moved = since?.rows.filter(({ key }) => key !== 'rounding') ?? [];
      const clay = `clay-${home.clay.id}`; // what comes back as reclaim is worth as much more
      expect(moved.map(({ key }) => key)).toEqual([clay, `${clay}-reclaim`]);
      expect(Number(moved[0]?.line?.second)).toBeGreaterThan(Number(moved[0]?.line?.first));
      const sum = since?.rows.reduce((all, { effectMinor }) => all.plus(effectMinor), new Decimal(0));
      expect(sum?.toNumber()).toBe(result.fairPriceMinor - (since?.fairPriceMinor ?? 0));
    }
    const { inputs, since } = await priceOf(course);
    const kept = await db.priceQuote.findFirstOrThrow({ where: { courseId: course.id } });
    expect(since.rows).toEqual(comparePrices(kept.inputs as never, inputs).rows);
  });

  test('is told of a price that was saved before the surplus was asked for by the hour', async () => {
    const { inputs, result } = await priceOf(course);
    const { surplusPerHour: _, ...before } = { ...inputs, targetSurplusMinor: 6000 };
    await clock.set('2026-03-11T09:00:00Z');
    await db.priceQuote.create({
      data: { id: home.room.id, courseId: course.id, inputs: before, result, computedAt: new Date('2026-03-11') },
    });
    const { since } = await priceOf(course);
    expect(since.rows.map(({ key }: { key: string }) => key)).toContain('wishes');
  });

  test('is told of a price that was saved before it had a version', async () => {
    const [kept, { inputs }] = [
      await db.priceQuote.findFirstOrThrow({ where: { courseId: course.id } }),
      await priceOf(course),
    ];
    expect(kept.inputs).toMatchObject({ version: 2, lines: inputs.lines.map(({ key }: { key: string }) => ({ key })) });
    await stored(firstVersion(inputs), '2026-03-12');
    expect((await priceOf(course)).since).toMatchObject({ rows: [], savedAt: '2026-03-12T09:00:00.000Z' });
    expect(await priceOf(course)).toMatchObject({ sinceUnknown: null });
  });

  test('is not known of one that cannot be read, or is in another currency: both pages say so', async () => {
    const { inputs } = await priceOf(course);
    for (const [unreadable, why] of [
      [{ ...inputs, version: 2, currency: 'EUR' }, 'is in EUR, and the studio now works in GBP.'],
      [{ ...inputs, version: 2, places: 0 }, 'can’t be read, so nothing says what has moved since.'],
      [{ version: 2, groupOf: 4 }, 'can’t be read, so nothing says what has moved since.'],
    ]) {
      await stored(unreadable as object, '2026-03-13');
      const { since, sinceUnknown, result } = await priceOf(course);
      expect(since).toBeNull();
      expect(sinceUnknown).toBe(
        `The price saved on 13 March 2026 ${why} Save today’s price to compare with it from now on.`,
      );
      expect(result.fairPriceMinor).toBeGreaterThan(0);
    }
    expect((await owner.post(`/api/courses/${group.id}/price-quotes`, {})).json()).not.toHaveProperty('sinceUnknown');
    await bookingFixture(owner, course.id, 4);
    await clock.set('2026-04-14T18:30:00Z'); // it has begun
    const afterwards = async () => (await owner.get(`/api/courses/${course.id}/afterwards`)).json();
    expect((await afterwards()).plannedFrom).toEqual({
      quoteId: null,
      detail: "Today's figures, since the price saved on 13 March 2026 can't be read.",
    });
    await stored(firstVersion(inputs), '2026-03-14');
    const { plannedFrom, lines } = await afterwards();
    expect(plannedFrom.detail).toBe('The price saved on 14 March 2026, before the course began.');
    expect(lines.map(({ key }: { key: string }) => key)).toEqual(
      expect.arrayContaining(['firing-bisque', 'firing-glaze', `clay-${home.clay.id}-reclaim`]),
    );
  });
});
