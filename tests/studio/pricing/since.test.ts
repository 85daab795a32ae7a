import { beforeAll, describe, expect, test } from 'vitest';
import type { PriceSince } from '../../../src/studio/pricing/contract.js';
import { Decimal } from '../../../src/trade/money/money.js';
import { comparePrices } from '../../../src/trade/pricing/compare-prices.js';
import { testApp } from '../../support/app.js';
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
});
