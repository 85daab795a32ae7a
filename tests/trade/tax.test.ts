import fc from 'fast-check';
import { expect, test } from 'vitest';
import { grossFromNet, type TaxTreatment, vatInside, vatOfPart } from '../../src/trade/tax.js';

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
