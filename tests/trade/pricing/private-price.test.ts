import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import { type PrivateInputs, privatePrice, privateProfitTableAt } from '../../../src/trade/pricing/private-price.js';
import { CLAY, ROOM, SUNK } from '../../support/cost-kinds.js';
import { anyEvenings, line } from '../../support/price-case.js';

/** A hen party at the wheel: six in the price, ten at most. Everything by hand below. */
const PARTY: PrivateInputs = {
  currency: 'GBP',
  ...{ places: 10, groupOf: 6 },
  ...{ vatPercent: '20', cardPercent: '0', cardFixedMinor: 20, payments: 2 },
  lines: [
    line(CLAY, 'per-student', '2', '100'), // 2.00 a head
    line(ROOM, 'per-course', '3', '500', 'h'), // 15.00
    line(SUNK, 'if-cancelled', '1', '9999'),
  ],
  ...{ ownerHours: '4', ownerHoursPerStudent: '0.25', wagePerHourMinor: 2000, secondTutor: null },
  ...{ targetSurplusMinor: 3000, priceStepMinor: 500 },
};

const anyParty: fc.Arbitrary<PrivateInputs> = fc
  .tuple(anyEvenings, fc.integer({ min: 1, max: 12 }))
  .map(([inputs, groupOf]) => ({ ...inputs, groupOf: Math.min(groupOf, inputs.places) }));

describe('the price of a private session', () => {
  it('is what a hand calculation gives (own algebra)', () => {
    // C(6) = 6 * 200 + 1500 + 2000 * (4 + 1.5) = 13700; + 2 * 20 card = 13740; gross * 1.2 = 16488
    // fair: (13740 + 3000) * 1.2 = 20088, up to 20500; one more: (200 + 500) * 1.2 = 840, up to 1000
    const price = privatePrice(PARTY);
    expect(price).toMatchObject({ floorMinor: '16488', fairPriceMinor: 20_500, perHeadAboveMinor: 1000 });
    // the costs alone: (6 * 200 + 1500 + 40) * 1.2; with the surplus, before it is rounded to the step: 20088
    expect(price).toMatchObject({ costFloorMinor: '3288', surplusPriceMinor: '20088' });
    expect([price.oneMoreMinor, price.dearestHeads]).toEqual(['840', null]);
    expect(price.lines.map(({ key }) => key)).toEqual(['clay-1', 'room']);
    // 8 heads: 20500 + 2 * 1000 = 22500 / 1.2 = 18750 - 40 - (1600 + 1500 + 2000 * 6) = 3610; 15610 for 6 h
    const eight = price.ladder[7];
    expect(eight).toMatchObject({ heads: 8, chargedMinor: 22_500, resultMinor: '3610' });
    expect(Number(eight?.ownerPayPerHourMinor)).toBeCloseTo(15_610 / 6, 9);
    expect(eight?.costPerHeadMinor).toBe('1892.5');
  });

  it('asks so much above the group that the second tutor is paid whenever they come', () => {
    // from 8 heads on 48.00 more: two heads above carry it, (2 * 700 + 4800) / 2 * 1.2 = 3720, up to 4000
    const price = privatePrice({ ...PARTY, secondTutor: { feeMinor: 4800, above: 7 } });
    expect(price).toMatchObject({ perHeadAboveMinor: 4000, oneMoreMinor: '840', dearestHeads: 8 });
    // within the group it stands in the group's price: (13740 + 4800) * 1.2
    expect(privatePrice({ ...PARTY, secondTutor: { feeMinor: 4800, above: 4 } }).floorMinor).toBe('22248');
  });

  it('is never below cost, at any number of heads, and leaves the surplus from the full group on', () => {
    fc.assert(
      fc.property(anyParty, (inputs) => {
        const { ladder, floorMinor } = privatePrice(inputs);
        expect(ladder).toHaveLength(inputs.places);
        for (const { heads, resultMinor } of ladder)
          expect(new Decimal(resultMinor).gte(inputs.targetSurplusMinor), `${heads} heads`).toBe(true);
        const atFloor = new Decimal(floorMinor).ceil().toNumber();
        for (const { heads, resultMinor } of privateProfitTableAt(inputs, {
          groupMinor: atFloor,
          perHeadAboveMinor: 0,
        }))
          if (heads <= inputs.groupOf) expect(Number(resultMinor)).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 60 },
    );
  });

  it('has a floor at which a full group leaves nothing, and no step less would do', () => {
    fc.assert(
      fc.property(anyParty, (inputs) => {
        const { floorMinor, fairPriceMinor, perHeadAboveMinor } = privatePrice(inputs);
        const rung = (groupMinor: number) =>
          privateProfitTableAt(inputs, { groupMinor, perHeadAboveMinor })[inputs.groupOf - 1];
        expect(rung(fairPriceMinor)?.floorMinor).toBe(floorMinor);
        const less = fairPriceMinor - inputs.priceStepMinor;
        if (less >= 0) expect(Number(rung(less)?.resultMinor)).toBeLessThan(inputs.targetSurplusMinor);
      }),
      { numRuns: 60 },
    );
  });

  it('a dearer input never lowers its floor or what a head above costs', () => {
    fc.assert(
      fc.property(anyParty, fc.nat(5), (inputs, which) => {
        const lines = inputs.lines.map((l, i) =>
          i === which ? { ...l, rateMinor: `${Number(l.rateMinor) + 50}` } : l,
        );
        const [before, after] = [privatePrice(inputs), privatePrice({ ...inputs, lines })];
        expect(new Decimal(after.floorMinor).gte(before.floorMinor)).toBe(true);
        expect(new Decimal(after.oneMoreMinor).gte(before.oneMoreMinor)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it('one more head never raises the cost per head, except where the second tutor comes', () => {
    fc.assert(
      fc.property(anyParty, (inputs) => {
        const each = privateProfitTableAt(inputs, { groupMinor: 0, perHeadAboveMinor: 0 }).map((r) =>
          new Decimal(r.costPerHeadMinor).toDecimalPlaces(15),
        );
        for (const [i, cost] of each.entries())
          if (i > 0 && i !== inputs.secondTutor?.above) expect(cost.lte(each[i - 1] ?? 0)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it.each<[string, Partial<PrivateInputs>, string]>([
    ['a group larger than its places', { groupOf: 11 }, "The people in the group's price"],
    ['a part of every place', { parts: [{ label: 'Clay', vatPercent: '5', amountMinor: 100 }] }, 'Give its share'],
    ['no hours', { ownerHours: '0' }, "Enter the owner's hours"],
    ['two lines of one key', { lines: [...PARTY.lines, ...PARTY.lines] }, 'the same key'],
  ])('refuses %s', (_, changes, sentence) => {
    expect(() => privatePrice({ ...PARTY, ...changes })).toThrow(sentence);
  });
});
