import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { splitExactly, splitInTurn } from '../../../src/trade/money/money.js';
import {
  grossFromNet,
  payParts,
  type TaxedPart,
  type TaxTreatment,
  vatInside,
  vatOfPart,
  vatOfParts,
} from '../../../src/trade/money/tax.js';

const treatment = fc.oneof(
  fc
    .integer({ min: 0, max: 10_000 })
    .map((hundredths): TaxTreatment => ({ kind: 'standard', percent: `${hundredths / 100}` })),
  fc.constantFrom<TaxTreatment>({ kind: 'exempt' }, { kind: 'outside' }),
);
const price = fc.integer({ min: 0, max: 1e10 });

test('the parts of a price bear the VAT of the whole, whatever their order', () => {
  fc.assert(
    fc.property(fc.array(price, { minLength: 1, maxLength: 12 }), treatment, (parts, tax) => {
      let paid = 0;
      let vat = 0;
      for (const part of parts) {
        vat += vatOfPart(paid, part, tax);
        paid += part;
      }
      expect(vat).toBe(vatInside(paid, tax));
    }),
  );
});

test('a refund gives back the VAT that its charge bore', () => {
  fc.assert(
    fc.property(price, treatment, (gross, tax) => {
      expect(vatInside(-gross, tax) + vatInside(gross, tax)).toBe(0);
      expect(vatOfPart(gross, -gross, tax) + vatInside(gross, tax)).toBe(0);
    }),
  );
});

test('the VAT found in a gross price made from a net one is what was put on', () => {
  fc.assert(
    fc.property(price, treatment, (net, tax) => {
      const gross = grossFromNet(net, tax);
      expect(vatInside(gross, tax)).toBe(gross - net);
    }),
  );
});

test('exempt and outside bear none', () => {
  expect([vatInside(6000, { kind: 'exempt' }), vatInside(6000, { kind: 'outside' })]).toEqual([0, 0]);
});

test('refuses a rate or an amount that cannot be', () => {
  expect(() => vatInside(100, { kind: 'standard', percent: 'twenty' })).toThrow(/VAT rate/);
  expect(() => vatInside(100, { kind: 'standard', percent: '-1' })).toThrow(RangeError);
  expect(() => vatInside(10.5, { kind: 'exempt' })).toThrow(RangeError);
  expect(() => grossFromNet(Number.NaN, { kind: 'exempt' })).toThrow(RangeError);
});

describe('a price whose parts bear different taxes', () => {
  const minor = fc.integer({ min: 0, max: 1_000_000 });
  const parts = fc
    .array(fc.record({ grossMinor: minor, tax: treatment }), { minLength: 1, maxLength: 5 })
    .filter((list) => list.some(({ grossMinor }) => grossMinor > 0));
  const wholeOf = (list: readonly TaxedPart[]) => list.reduce((sum, { grossMinor }) => sum + grossMinor, 0);
  const vatOf = (list: readonly TaxedPart[]) =>
    list.reduce((sum, { grossMinor, tax }) => sum + vatInside(grossMinor, tax), 0);

  test('bears the VAT of each part as a whole, after any payments and refunds', () => {
    const moves = fc.array(fc.record({ back: fc.boolean(), part: fc.double({ min: 0, max: 1, noNaN: true }) }), {
      maxLength: 12,
    });
    fc.assert(
      fc.property(parts, moves, (list, steps) => {
        const whole = wholeOf(list);
        let paid = 0;
        const held = list.map(() => ({ amountMinor: 0, vatMinor: 0 }));
        const pay = (sumMinor: number) => {
          const each = payParts(list, paid, sumMinor);
          expect(each.reduce((sum, { amountMinor }) => sum + amountMinor, 0)).toBe(sumMinor);
          const sign = sumMinor < 0 ? -1 : 1;
          for (const [i, of] of held.entries()) {
            const { amountMinor = 0, vatMinor = 0 } = each[i] ?? {};
            expect(Math.min(sign * amountMinor, sign * vatMinor)).toBeGreaterThanOrEqual(0);
            of.amountMinor += amountMinor;
            of.vatMinor += vatMinor;
          }
          paid += sumMinor;
        };
        for (const { back, part } of steps) pay(back ? 0 - Math.floor(paid * part) : Math.floor((whole - paid) * part));
        // what is held depends on how much was paid, not on how
        expect(held).toEqual(payParts(list, 0, paid).map(({ part: _, ...each }) => each));
        pay(whole - paid);
        expect(held).toEqual(
          list.map(({ grossMinor, tax }) => ({ amountMinor: grossMinor, vatMinor: vatInside(grossMinor, tax) })),
        );
        expect(vatOfParts(list, 0, whole)).toBe(vatOf(list));
        pay(-whole);
        expect(held.every(({ amountMinor, vatMinor }) => amountMinor === 0 && vatMinor === 0)).toBe(true);
      }),
    );
  });

  test('and of one tax is taxed as a price without parts', () => {
    fc.assert(
      fc.property(minor, minor, treatment, (before, now, tax) => {
        expect(vatOfParts([{ grossMinor: 2_000_000, tax }], before, now)).toBe(vatOfPart(before, now, tax));
      }),
    );
  });

  test('keeps each part within a penny of its share for every part before it', () => {
    fc.assert(
      fc.property(parts, fc.double({ min: 0, max: 1, noNaN: true }), (list, part) => {
        const whole = wholeOf(list);
        const paid = Math.floor(whole * part);
        for (const [i, { amountMinor }] of payParts(list, 0, paid).entries())
          expect(Math.abs(amountMinor - (paid * (list[i]?.grossMinor ?? 0)) / whole)).toBeLessThanOrEqual(
            0.5 * (i + 1) + 1e-6,
          );
      }),
    );
  });
});

describe('splitting in turn', () => {
  const weights = fc
    .array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 6 })
    .filter((w) => w.some((x) => x > 0));

  test('adds up, gives no part less of more, and the weights of their own sum', () => {
    fc.assert(
      fc.property(weights, (list) => {
        const sum = list.reduce((a, b) => a + b, 0);
        let before = list.map(() => 0);
        for (let total = 0; total <= sum; total++) {
          const split = splitInTurn(total, list);
          expect(split.reduce((a, b) => a + b, 0)).toBe(total);
          expect(split.every((part, i) => part >= (before[i] ?? 0))).toBe(true);
          before = split;
        }
        expect(before).toEqual(list);
      }),
    );
  });

  // the Alabama paradox (Balinski and Young, Fair Representation, 1982; from memory): weights 6, 6 and 2, which with the largest
  // remainder make 4, 4, 2 of 10 and 5, 5, 1 of 11
  test('never takes back what a part had, where the largest remainder does', () => {
    expect([splitExactly(10, [6, 6, 2])[2], splitExactly(11, [6, 6, 2])[2]]).toEqual([2, 1]);
    expect(splitInTurn(11, [6, 6, 2])[2]).toBeGreaterThanOrEqual(splitInTurn(10, [6, 6, 2])[2] ?? 0);
  });

  test('refuses what is no sum or has no weights', () => {
    for (const total of [-1, 0.5]) expect(() => splitInTurn(total, [1])).toThrow(RangeError);
    for (const list of [[], [0], [-1, 2], [0.5]]) expect(() => splitInTurn(10, list)).toThrow(RangeError);
  });
});
