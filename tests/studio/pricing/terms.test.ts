import { beforeAll, describe, expect, test } from 'vitest';
import type { Course } from '../../../src/studio/courses/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import type { Price } from '../../../src/studio/pricing/contract.js';
import { coursePrice } from '../../../src/trade/pricing/course-price.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let exempt: { id: string };

beforeAll(async () => {
  home = await coursesFixture(owner);
  exempt = await made(owner, '/api/tax-rates', { name: 'Tuition', kind: 'exempt', percent: null });
  for (const { id } of [home.clay, home.glaze])
    await made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 100_000, costMinor: 9000 },
    });
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
});

const addPlan = (changes: object = {}) => made<Plan>(owner, '/api/course-plans', { ...planBody(home), ...changes });
const priceOf = async ({ id }: { id: string }): Promise<Extract<Price, { kind: 'course' | 'openStudio' }>> =>
  (await owner.get(`/api/courses/${id}/price`)).json();
const SOLD_AT = [
  { label: 'Student', sharePercent: '20', pricePercent: '75' },
  { label: 'Early', sharePercent: '12.5', lessMinor: 1000, payments: 1 },
];

describe('the prices at which places are sold', () => {
  test('come from the plan, the rest of the places at the full price', async () => {
    const course = await home.addCourse({ planId: (await addPlan({ soldAt: SOLD_AT })).id });
    const { inputs, result } = await priceOf(course);
    expect(inputs.sold).toEqual([
      { label: 'The full price', sharePercent: '67.5' },
      { label: 'Student', sharePercent: '20', pricePercent: '75', discountMinor: 0 },
      { label: 'Early', sharePercent: '12.5', pricePercent: '100', discountMinor: 1000, payments: 1 },
    ]);
    expect(result).toEqual(JSON.parse(JSON.stringify(coursePrice(inputs))));
    const plain = await priceOf(await home.addCourse());
    expect(plain.inputs.sold).toBeUndefined();
    expect(result.fairPriceMinor).toBeGreaterThan(plain.result.fairPriceMinor);
  });

  test('are at what the course itself charges, and only those that it has', async () => {
    const { id: planId } = await addPlan({ soldAt: SOLD_AT });
    const concessions = [
      { label: 'Student', priceMinor: 6000 },
      { label: 'Neighbour', priceMinor: 5000 },
    ];
    const { inputs } = await priceOf(await home.addCourse({ planId, concessions }));
    expect(inputs.sold).toEqual([
      { label: 'The full price', sharePercent: '80' },
      { label: 'Student', sharePercent: '20', pricePercent: '50' },
    ]);
  });
});

test('a concession is reckoned with the payments that its places are asked for', async () => {
  const { id: planId } = await addPlan({ soldAt: SOLD_AT });
  const paidIn = async (changes: object) => {
    const { inputs } = await priceOf(await home.addCourse({ planId, ...changes }));
    return [inputs.payments, ...(inputs.sold ?? []).slice(1).map(({ payments }) => payments)];
  };
  expect(await paidIn({ balancePayments: 3 })).toEqual([4, undefined, 1]);
  const early = { label: 'Early', priceMinor: 11_000 };
  expect(await paidIn({ balancePayments: 3, concessions: [{ ...early, payments: 2 }] })).toEqual([4, 2]);
  expect(await paidIn({ balancePayments: 3, concessions: [early] })).toEqual([4, undefined]);
  // what costs no more than its deposit is paid at once
  expect(await paidIn({ concessions: [{ ...early, priceMinor: 2500 }] })).toEqual([2, 1]);
});

describe('what of a price bears another VAT', () => {
  test('is reckoned with, as the studio is registered', async () => {
    const parts = [
      { label: 'Teaching', taxRateId: exempt.id, sharePercent: '80' },
      { label: 'Clay', taxRateId: home.standard.id, amountMinor: 500 },
    ];
    const plan = await addPlan({ parts });
    expect(plan.parts[0]).toEqual({ ...parts[0], amountMinor: null });
    const { inputs, result } = await priceOf(await home.addCourse({ planId: plan.id }));
    expect(inputs.parts).toEqual([
      { label: 'Teaching', vatPercent: '0', sharePercent: '80' },
      { label: 'Clay', vatPercent: '20', amountMinor: 500 },
    ]);
    expect(Number(result.floorMinor)).toBeLessThan(Number((await priceOf(await home.addCourse())).result.floorMinor));
  });

  test.each([
    ['both a share and a sum', { sharePercent: '10', amountMinor: 500 }, '#/parts/0/sharePercent'],
    ['neither', {}, '#/parts/0/sharePercent'],
  ])('with %s is refused', async (_, changes, pointer) => {
    const parts = [{ label: 'Clay', taxRateId: exempt.id, ...changes }];
    const answer = await owner.post('/api/course-plans', { ...planBody(home), parts });
    expect([answer.statusCode, answer.json().errors?.[0].pointer]).toEqual([422, pointer]);
  });

  test('at a tax rate that there is not is not found', async () => {
    const parts = [{ label: 'Clay', taxRateId: home.plan.id, sharePercent: '10' }];
    expect((await owner.post('/api/course-plans', { ...planBody(home), parts })).statusCode).toBe(404);
  });
});

describe('the number of payments', () => {
  test.each([
    ['a deposit and a balance', { depositMinor: 3000 }, 2, 'deposit, and its balance'],
    ['no deposit', { depositMinor: 0 }, 1, 'it asks no deposit'],
    ['a deposit that is the price', { depositMinor: 12_000 }, 1, 'its deposit is the price'],
    ['a balance in three', { balancePayments: 3 }, 4, 'deposit, and its balance in 3 payments'],
    ['all in three', { balancePayments: 3, depositMinor: 0 }, 3, 'no deposit, and its price in 3 payments'],
  ])('follows from the course: %s', async (_, changes, payments, said) => {
    const { inputs } = await priceOf(await home.addCourse(changes));
    expect(inputs).toMatchObject({ payments, paymentsSource: { kind: 'plan', detail: expect.stringContaining(said) } });
  });
});

describe('the price of a plan without dates', () => {
  test('is that of today, at the tax rate of its latest course, with its own number of payments', async () => {
    const plan = await addPlan({ payments: 3 });
    const course = (await home.addCourse({ planId: plan.id, taxRateId: exempt.id })) as Course;
    const answer = await owner.get(`/api/course-plans/${plan.id}/price`);
    expect(answer.statusCode).toBe(200);
    const price = answer.json();
    expect(price).toMatchObject({ kind: 'course', planId: plan.id, title: plan.name, taxRateId: exempt.id });
    expect(price.inputs).toMatchObject({ payments: 3, vatPercent: '0', paymentsSource: { kind: 'assumption' } });
    expect(price.result).toEqual(JSON.parse(JSON.stringify(coursePrice(price.inputs))));
    const named = (await owner.get(`/api/course-plans/${plan.id}/price?taxRateId=${home.standard.id}`)).json();
    expect(named.inputs.vatPercent).toBe('20');
    const { mostPlaces: _, ...same } = (await priceOf({ id: course.id })).inputs;
    expect(price.inputs.lines).toEqual(same.lines);
  });

  test('is refused to a tutor, and for a plan that there is not', async () => {
    expect((await tutor.get(`/api/course-plans/${home.plan.id}/price`)).statusCode).toBe(403);
    expect((await owner.get(`/api/course-plans/${home.clay.id}/price`)).statusCode).toBe(404);
  });
});

describe('what is fired', () => {
  const fired = async (changes: object, course: object = {}) => {
    const { inputs } = await priceOf(await home.addCourse({ planId: (await addPlan(changes)).id, ...course }));
    return inputs.lines.filter(({ key }) => key.startsWith('firing-'));
  };

  test('is paid for by the share of a load, or by whole loads as for a full course, and never both', async () => {
    const shares = await fired({});
    expect(shares.map(({ basis }) => basis)).toEqual(['per-student', 'per-student']);
    const whole = await fired({ wholeLoads: true });
    expect(whole.map(({ rateMinor }) => rateMinor)).toEqual(shares.map(({ rateMinor }) => rateMinor));
    for (const [i, line] of whole.entries()) {
      expect(line).toMatchObject({ basis: 'per-course', unit: 'whole load' });
      const needed = Number(shares[i]?.quantity) * 8;
      expect(Number(line.quantity)).toBe(Math.ceil(needed));
    }
    // more ware than one load takes
    const pieces = planBody(home).pieces.map((piece: object) => ({ ...piece, perStudent: 40 }));
    const many = [await fired({ pieces }), await fired({ pieces, wholeLoads: true })];
    expect(Number(many[1]?.[0]?.quantity)).toBe(Math.ceil(Number(many[0]?.[0]?.quantity) * 8));
    expect(Number(many[1]?.[0]?.quantity)).toBeGreaterThan(1);
  });
});

describe('the VAT in what is bought', () => {
  const labelled = ({ inputs }: Awaited<ReturnType<typeof priceOf>>) =>
    inputs.lines.filter(({ key }) => key.startsWith('input-vat'));
  const asTaxed = async (changes: object, course: object = {}) =>
    labelled(await priceOf(await home.addCourse({ planId: (await addPlan(changes)).id, ...course })));

  test('is a cost of the exempt part of a price, by each material or by the settings', async () => {
    const { inputVatPercent: _, ...studio } = (await owner.get('/api/studio')).json();
    const bears = async (changes: object) => {
      expect((await owner.put('/api/studio', { ...studio, ...changes })).statusCode).toBe(200);
    };
    await bears({ inputVatPercent: '20' });
    expect(await asTaxed({})).toEqual([]); // all of it is reclaimed
    const whole = await asTaxed({}, { taxRateId: exempt.id });
    expect(whole.map(({ key }) => key)).toEqual([
      'input-vat-per-student',
      'input-vat-per-course',
      'input-vat-if-cancelled',
    ]);
    const shared = await asTaxed({ parts: [{ label: 'Tuition', taxRateId: exempt.id, sharePercent: '40' }] });
    expect(Number(shared[0]?.rateMinor)).toBeCloseTo(Number(whole[0]?.rateMinor) * 0.4, 4);
    expect(shared[0]?.source.detail).toContain('40% of the price');
    const fixed = await asTaxed({ parts: [{ label: 'Tuition', taxRateId: exempt.id, amountMinor: 6000 }] });
    expect(Number(fixed[0]?.rateMinor)).toBeCloseTo(Number(whole[0]?.rateMinor) / 2, 4); // of a price of 120.00

    const { onHand, asksForCount, lots, moves, id, ...clay } = (
      await owner.get(`/api/materials/${home.clay.id}`)
    ).json();
    await owner.put(`/api/materials/${id}`, { ...clay, inputVatPercent: '0' });
    const without = await asTaxed({}, { taxRateId: exempt.id });
    expect(Number(without[0]?.rateMinor)).toBeLessThan(Number(whole[0]?.rateMinor));

    await bears({ inputVatPercent: '20', vatNumber: null });
    expect(await asTaxed({}, { taxRateId: exempt.id })).toEqual([]); // what it pays is what it costs
  });
});
