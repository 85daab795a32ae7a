import { beforeAll, describe, expect, test } from 'vitest';
import type { FiringCost, KilnFills, UnusedRoom } from '../../../src/studio/firings/contract.js';
import { testApp } from '../../support/app.js';
import { planBody, type Workshop, workshopFixture } from '../../support/fixtures/courses.js';
import { firingFixture, step } from '../../support/fixtures/firings.js';
import { tariffFixture } from '../../support/fixtures/kilns.js';
import { MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { made, personFixture, studioFixture } from '../../support/fixtures.js';

const { owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof studioFixture>>;
let shop: Workshop;
let maker: { id: string };
beforeAll(async () => {
  home = await studioFixture(owner);
  shop = await workshopFixture(owner);
  maker = await personFixture(owner);
  await tariffFixture(owner);
});

const CHAMBER_MM3 = 500 * 500 * 600;
/** Medium mugs of no known clay, bisqued and with their gap; by hand in the tests of the rule. */
const MUG_MM3 = 1_406_571;
const percentOf = (mugs: number) => (100 * mugs * MUG_MM3) / CHAMBER_MM3;

/** A glaze firing of so many mugs in the night before a day of March 2026, 80 kWh, settled. */
async function fire(day: number, mugs: number): Promise<FiringCost> {
  const at = (hour: string, of = day) => `2026-03-${String(of).padStart(2, '0')}T${hour}:00:00Z`;
  const plan = { plannedFrom: at('20', day - 1), plannedTo: at('18'), labourMinutes: 60 };
  const firing = await firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id }, plan);
  const pieces = await piecesFixture(owner, maker.id, { stage: 'glazed', ware: [{ ...MUG, count: mugs }] });
  await step(owner, firing.id, 'loading', { placements: pieces.map(({ id }) => ({ pieceId: id, layer: 1 })) });
  await step(owner, firing.id, 'readings', { at: at('20', day - 1), kwh: String(100 * day) });
  await step(owner, firing.id, 'start', { startedAt: at('20', day - 1) });
  await step(owner, firing.id, 'readings', { at: at('08'), kwh: String(100 * day + 80) });
  const outcomes = pieces.map(({ id }) => ({ pieceId: id, outcome: 'good' }));
  await step(owner, firing.id, 'unloading', { endedAt: at('08'), unloadedAt: at('18'), outcomes });
  return step<FiringCost>(owner, firing.id, 'settlement', {});
}

const fillNow = async () => {
  const { items }: { items: KilnFills[] } = (await tutor.get('/api/kiln-fills')).json();
  return items.find(({ kilnId }) => kilnId === shop.kiln.id);
};
const studioSays = async (changes: object) => {
  const now = (await owner.get('/api/studio')).json();
  expect((await owner.put('/api/studio', { ...now, firingTaxRateId: home.standard.id, ...changes })).statusCode).toBe(
    200,
  );
};
const firingLine = async (planId: string) => {
  const { inputs } = (await owner.get(`/api/course-plans/${planId}/price?taxRateId=${home.standard.id}`)).json();
  return inputs.lines.find(({ key }: { key: string }) => key === 'firing-1');
};

describe('how full a kiln usually is', () => {
  test('is an assumption, and says so, until five of its kind are known; then it is learnt, with its range', async () => {
    const plan = await made(owner, '/api/course-plans', decorating());
    for (const [i, mugs] of [20, 24, 28, 22].entries()) await fire(2 + i, mugs);
    expect(await fillNow()).toMatchObject({ glaze: { percent: '60', isLearnt: false, firings: 4 } });
    const before = await firingLine(plan.id);
    expect(before.source.kind).toBe('assumption');
    expect(before.source.detail).toContain(
      '60% full is assumed until 5 glaze firings are known (4 are known, 22% full).',
    );

    await fire(6, 26);
    const fill = await fillNow();
    // 20, 24, 28, 22 and 26 mugs: 24 on average
    expect(fill).toMatchObject({ glaze: { isLearnt: true, firings: 5, assumedPercent: '60' } });
    expect(Number(fill?.glaze.percent)).toBeCloseTo(percentOf(24), 2);
    expect(Number(fill?.glaze.lowPercent)).toBeLessThan(percentOf(24));
    expect(Number(fill?.glaze.highPercent)).toBeGreaterThan(percentOf(24));
    expect(fill?.bisque).toMatchObject({ percent: '60', isLearnt: false, firings: 0 });

    const after = await firingLine(plan.id);
    expect(Number(after.quantity)).toBeCloseTo(1.0375 / 24, 5); // one mug of the 24 that such a load usually is, and a quarter of the 15 % made again
    expect(after.source).toMatchObject({ kind: 'meter' });
    expect(after.source.detail).toMatch(
      /23% full on average in its last 5 glaze firings, .* between 2[01]% and 2[456]%\./,
    );
  });

  test('is that of the firings before, for one that is shared out at the usual fill', async () => {
    await studioSays({ emptySpace: 'usual' });
    const emptier = await fire(7, 12);
    // electricity 80 kWh by the bands, wear 5.00, an hour 24.00; twelve mugs of the usual 24 pay half of it
    expect(Number(emptier.usualFillPercent)).toBeCloseTo(percentOf(24), 2);
    expect(emptier).toMatchObject({ emptySpace: 'usual', wearMinor: 500, labourMinor: 2400 });
    const borne = emptier.costMinor - emptier.studioMinor;
    expect(borne / emptier.costMinor).toBeCloseTo(0.5, 3);
    // time is half of the hour, and the rest is what a course's price counts for the same room
    const time = emptier.shares.reduce((sum, { labourMinor }) => sum + labourMinor, 0);
    expect(Math.abs(time - 1200)).toBeLessThanOrEqual(1);
    expect(Math.abs(borne - time - (emptier.asPricedMinor ?? 0))).toBeLessThanOrEqual(1);
    expect(emptier.whyNotAsPriced).toContain('is your time, which a price counts in your hours.');

    const fuller = await fire(8, 40);
    expect(fuller.studioMinor).toBe(0); // no piece pays for more than the firing cost
    await studioSays({ emptySpace: 'studio' });
  });

  test('by the studio’s choice, what it bears is told with by how much that is less than a price counts, and why', async () => {
    const cost = await fire(9, 12);
    const borne = cost.shares.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
    const time = cost.shares.reduce((sum, { labourMinor }) => sum + labourMinor, 0);
    const less = ((cost.asPricedMinor ?? 0) - (borne - time)) / 100;
    expect(less).toBeGreaterThan(0);
    expect(cost.whyNotAsPriced).toContain(`The other £${less.toFixed(2)} less: the kiln was 11% full`);
    expect(cost.whyNotAsPriced).toContain('and the studio pays for the empty room.');
    expect(cost.energyAndWearMinor + cost.labourMinor).toBe(cost.costMinor);
    expect(time + cost.studioLabourMinor).toBe(cost.labourMinor);
  });
});

test('what each choice would have meant over the last firings adds up to what they cost, each time', async () => {
  const found: UnusedRoom = (await owner.get('/api/unused-room')).json();
  expect(found).toMatchObject({ firings: 8, from: '2026-03-01', to: '2026-03-08', currency: 'GBP' });
  expect(found.choices.map(({ emptySpace, isSet }) => [emptySpace, isSet])).toEqual([
    ['studio', true],
    ['usual', false],
    ['spread', false],
  ]);
  for (const { makersMinor, coursesMinor, studioMinor } of found.choices)
    expect(makersMinor + coursesMinor + studioMinor).toBe(found.costMinor);
  const [studio, usual, spread] = found.choices;
  expect(spread).toMatchObject({ studioMinor: 0, coursesMinor: 0, makersMinor: found.costMinor });
  expect(studio?.makersMinor).toBeLessThan(usual?.makersMinor ?? 0);
  expect(usual?.makersMinor).toBeLessThan(found.costMinor);
  expect((await tutor.get('/api/unused-room')).statusCode).toBe(403);
});

/** Each student glazes one mug that comes as bisque, of no clay whose shrinkage is known. */
function decorating() {
  const [piece] = planBody(shop).pieces;
  const bisqued = { ...piece, perStudent: 1, comesAs: 'bisque', clayId: null, wetMassGrams: null, glaze: null };
  const firings = [{ kilnId: shop.kiln.id, scheduleId: shop.stoneware.id }];
  return { ...planBody(shop), pieces: [bisqued], firings };
}
