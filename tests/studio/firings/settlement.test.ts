import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { FiringCost } from '../../../src/studio/firings/contract.js';
import { sharesOf } from '../../../src/studio/firings/settlement.js';
import { EMPTY_SPACES } from '../../../src/trade/firing/cost-split.js';
import { testApp } from '../../support/app.js';
import { workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { tariffFixture } from '../../support/fixtures/kilns.js';
import { MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let maker: { id: string; name: string };
let home: Awaited<ReturnType<typeof studioFixture>>;
beforeAll(async () => {
  home = await studioFixture(owner);
  await tariffFixture(owner);
  maker = await personFixture(owner, 'Ines Duval');
});
const firingNew = async (changes: object = {}) => {
  const shop = await workshopFixture(owner);
  return firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id }, changes);
};
const mugs = (count: number, size: object | string = 'medium') =>
  piecesFixture(owner, maker.id, { stage: 'glazed', ware: [{ ...MUG, count, size }] });
const fired = async (count: number) => {
  const [firing, pieces] = [await firingNew(), await mugs(count)];
  await firedFixture(owner, firing.id, pieces);
  return { firing, pieces };
};
const settle = (id: string, body: object = {}) => owner.post(`/api/firings/${id}/settlement`, body);

describe('what a firing costs', () => {
  test('is its energy by the meter and the bands of the day, wear and labour; and it is split to the penny', async () => {
    const { firing, pieces } = await fired(5);
    expect((await settle(firing.id)).statusCode).toBe(200);
    const cost: FiringCost = (await owner.get(`/api/firings/${firing.id}/shares`)).json();
    // 10510.1 - 10423.7 = 86.4 kWh from 20:00 to 08:00, 7.2 an hour: 5 h at 27.35 (984.60) and 7 h at 14.50 (730.80)
    expect(cost).toMatchObject({ energyKwh: '86.4', energyMinor: 1715, tariffName: 'Day and night', currency: 'GBP' });
    expect(cost).toMatchObject({ wearMinor: 500, labourMinutes: 90, labourMinor: 3600, costMinor: 5815 });
    // each mug 1406571 mm³, bisqued and with its gap, of 500 x 500 x 600: 54.53 of 5815; three pennies are left for the first three
    expect(cost.shares.map((share) => share.amountMinor)).toEqual([55, 55, 55, 54, 54]);
    expect(cost.shares[0]).toMatchObject({
      pieceId: pieces[0]?.id,
      weightMm3: 1_406_571,
      personName: 'Ines Duval',
      borneBy: 'maker',
    });
    expect(cost.studioMinor).toBe(5815 - 273);
    expect((await owner.get(`/api/firings/${firing.id}`)).json().state).toBe('settled');
  });

  test('is spread over the ware where the studio says so, its labour as it was', async () => {
    await studioSays({ emptySpace: 'spread' });
    const { firing } = await fired(3);
    const cost: FiringCost = (await settle(firing.id, { labourMinutes: 31 })).json();
    expect(cost.labourMinor).toBe(1240); // 31 min at 24.00 an hour
    expect(cost).toMatchObject({ costMinor: 3455, studioMinor: 0 });
    expect(cost.shares.map((share) => share.amountMinor)).toEqual([1152, 1152, 1151]);
    await studioSays({ emptySpace: 'studio' });
  });

  test('goes by readings in between, where there are any', async () => {
    const firing = await firingNew();
    await firedFixture(owner, firing.id, await mugs(1));
    await step(owner, firing.id, 'readings', { at: '2026-03-09T00:00:00Z', kwh: '10501.7' }); // 78 kWh before midnight
    await step(owner, firing.id, 'readings', { at: '2026-03-09T07:00:00Z', kwh: '10508.7' }); // 7 until the day's price
    const cost: FiringCost = (await settle(firing.id)).json();
    expect(cost.energyMinor).toBe(2273); // 78 x 27.35 + 7 x 14.5 + 1.4 x 27.35 = 2273.09
  });

  test('is all the studio’s where the firing failed', async () => {
    const [firing, pieces] = [await firingNew(), await mugs(2)];
    await step(owner, firing.id, 'loading', { placements: pieces.map(({ id }) => ({ pieceId: id, layer: 1 })) });
    await step(owner, firing.id, 'readings', { at: '2026-03-08T19:55:00Z', kwh: '100' });
    await step(owner, firing.id, 'start', { startedAt: '2026-03-08T20:00:00Z' });
    await step(owner, firing.id, 'readings', { at: '2026-03-08T23:05:00Z', kwh: '120' });
    const times = { endedAt: '2026-03-08T23:00:00Z', unloadedAt: '2026-03-09T09:00:00Z' };
    await step(owner, firing.id, 'failure', { ...times, because: 'The power went off' });
    const cost: FiringCost = (await settle(firing.id)).json();
    expect(cost).toMatchObject({ energyMinor: 547, costMinor: 4647, studioMinor: 4647, shares: [] });
    expect((await owner.get(`/api/firings/${firing.id}`)).json().state).toBe('failed');
    expect((await settle(firing.id)).json()).toMatchObject({ type: '/problems/wrong-state' });
    expect((await owner.post(`/api/firings/${firing.id}/billing`)).json().detail).toContain('the studio’s cost');
  });

  test('is reckoned once: by one of many at once, and with one effect for one key', async () => {
    const { firing } = await fired(2);
    const answers = await Promise.all(Array.from({ length: 8 }, () => settle(firing.id)));
    expect(answers.map((answer) => answer.statusCode).sort()).toEqual([200, ...Array(7).fill(409)]);
    expect(await db.share.count({ where: { firingId: firing.id } })).toBe(3);
    const other = await fired(1);
    const key = randomUUID();
    const same = await Promise.all(
      Array.from({ length: 6 }, () => owner.post(`/api/firings/${other.firing.id}/settlement`, {}, key)),
    );
    expect(new Set(same.map((answer) => answer.body)).size).toBe(1);
  });

  test('is the owner’s to see', async () => {
    const { firing } = await fired(1);
    expect((await tutor.post(`/api/firings/${firing.id}/settlement`, {})).statusCode).toBe(403);
    expect((await owner.get(`/api/firings/${firing.id}/shares`)).json()).toMatchObject({
      type: '/problems/wrong-state',
    });
    await settle(firing.id);
    expect((await tutor.get(`/api/firings/${firing.id}/shares`)).statusCode).toBe(403);
    expect((await owner.get(`/api/firings/${randomUUID()}/shares`)).statusCode).toBe(404);
  });
});

describe('what cannot be reckoned', () => {
  /** A firing of the night of the 8th with the readings given. */
  const withReadings = async (readings: [string, string][], changes: object = {}) => {
    const firing = await firingNew(changes);
    await step(owner, firing.id, 'start', { startedAt: '2026-03-08T20:00:00Z' });
    await step(owner, firing.id, 'unloading', { endedAt: '2026-03-09T08:00:00Z', outcomes: [] });
    for (const [at, kwh] of readings) await step(owner, firing.id, 'readings', { at, kwh });
    return settle(firing.id);
  };

  test.each([
    ['no meter reading', [], 'reading-missing', 'has no meter reading. Enter what the meter showed before the start'],
    ['one', [['2026-03-08T20:00:00Z', '1']], 'reading-missing', 'has one meter reading'],
    [
      'none from before',
      [
        ['2026-03-08T22:00:00Z', '1'],
        ['2026-03-09T08:00:00Z', '2'],
      ],
      'reading-missing',
      'the firing started on',
    ],
    [
      'none from after',
      [
        ['2026-03-08T20:00:00Z', '1'],
        ['2026-03-09T04:00:00Z', '2'],
      ],
      'reading-missing',
      'the firing ended on',
    ],
    [
      'more than the kiln draws',
      [
        ['2026-03-08T20:00:00Z', '1'],
        ['2026-03-09T08:00:00Z', '201'],
      ],
      'reading-impossible',
      'at most 124.2',
    ],
    [
      'what the kiln drew in a firing before',
      [
        ['2026-03-01T20:00:00Z', '1'],
        ['2026-03-09T08:00:00Z', '201'],
      ],
      'reading-impossible',
      'at most 129.4', // 12.5 h, half of one before the start, of 9 kW and 15 % more
    ],
    [
      'nothing drawn',
      [
        ['2026-03-08T20:00:00Z', '1'],
        ['2026-03-09T08:00:00Z', '1'],
      ],
      'reading-impossible',
      'used 0 kWh',
    ],
  ] as [string, [string, string][], string, string][])('refuses %s', async (_, readings, type, detail) => {
    const answer = await withReadings(readings);
    expect(answer.statusCode).toBe(409);
    expect(answer.json()).toMatchObject({ type: `/problems/${type}` });
    expect(answer.json().detail).toContain(detail);
  });

  test('refuses a day without a tariff, and a firing that is not unloaded', async () => {
    const firing = await firingNew({ plannedFrom: '2025-12-01T08:00:00Z', plannedTo: '2025-12-02T08:00:00Z' });
    expect((await settle(firing.id)).json()).toMatchObject({ type: '/problems/wrong-state', state: 'planned' });
    await step(owner, firing.id, 'start', { startedAt: '2025-12-01T08:00:00Z' });
    await step(owner, firing.id, 'unloading', {
      endedAt: '2025-12-01T20:00:00Z',
      unloadedAt: '2025-12-02T08:00:00Z',
      outcomes: [],
    });
    await step(owner, firing.id, 'readings', { at: '2025-12-01T08:00:00Z', kwh: '5' });
    await step(owner, firing.id, 'readings', { at: '2025-12-01T20:00:00Z', kwh: '50' });
    expect((await settle(firing.id)).json()).toMatchObject({ type: '/problems/tariff-missing' });
    expect(await db.share.count({ where: { firingId: firing.id } })).toBe(0);
  });
});

describe('meter readings', () => {
  test('rise; a wrong one is corrected by the same moment, until the cost is reckoned', async () => {
    const { firing } = await fired(1);
    const send = (at: string, kwh: string) => owner.post(`/api/firings/${firing.id}/readings`, { at, kwh });
    const low = await send('2026-03-09T09:00:00Z', '10510');
    expect(low.json()).toMatchObject({ type: '/problems/reading-impossible' });
    expect(low.json().detail).toContain('would fall from 10510.1 kWh (Monday');
    expect(low.json().detail).toContain('Where the meter was changed');
    expect((await send('2026-03-08T19:00:00Z', '10424')).json()).toMatchObject({
      type: '/problems/reading-impossible',
    });
    expect((await send('2026-03-09T08:05:00Z', '10511.2')).statusCode).toBe(201);
    expect((await owner.get(`/api/firings/${firing.id}`)).json().readings).toEqual([
      { at: '2026-03-08T19:55:00.000Z', kwh: '10423.7' },
      { at: '2026-03-09T08:05:00.000Z', kwh: '10511.2' },
    ]);
    for (const kwh of ['-1', '12,5', '1.2345', '1e3', ''])
      expect((await send('2026-03-09T09:00:00Z', kwh)).statusCode).toBe(422);
    expect((await send('2026-03-11T09:00:00Z', '10600')).json().errors[0].pointer).toBe('#/at');
    await settle(firing.id);
    expect((await send('2026-03-09T08:05:00Z', '10512')).json()).toMatchObject({ type: '/problems/wrong-state' });
  });
});

describe('shares and the studio’s part', () => {
  test('add up to the cost, whatever is loaded', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 10_000_000 }),
        fc.integer({ min: 1_000_000, max: 27_000_000_000 }),
        fc.constantFrom(...EMPTY_SPACES),
        fc.constantFrom('0.001', '41.3', '100'),
        fc.array(fc.integer({ min: 1, max: 8_000_000_000 }), { maxLength: 60 }),
        (costMinor, chamberMm3, emptySpace, usualFillPercent, rooms) => {
          const ware = rooms.map((roomMm3, i) => ({ pieceId: `${i}`, makerId: `m${i % 3}`, roomMm3 }));
          const shares = sharesOf({ costMinor, chamberMm3, usualFillPercent, emptySpace, ware });
          expect(shares.reduce((sum, share) => sum + share.amountMinor, 0)).toBe(costMinor);
          expect(shares.every((share) => share.amountMinor >= 0 && share.weightMm3 >= 0)).toBe(true);
          expect(shares.filter((share) => share.pieceId === null)).toHaveLength(1);
          expect(shares.map((share) => share.personId)).toEqual([...ware.map((one) => one.makerId), null]);
        },
      ),
    );
  });
});

/** Replaces some of what the studio assumes. */
async function studioSays(changes: object): Promise<void> {
  const now = (await owner.get('/api/studio')).json();
  const answer = await owner.put('/api/studio', { ...now, firingTaxRateId: home.standard.id, ...changes });
  if (answer.statusCode !== 200) throw new Error(answer.body);
}
