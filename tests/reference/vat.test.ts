import { describe, expect, test } from 'vitest';
import {
  grossFromNet,
  payParts,
  simplifiedInvoiceAllowed,
  vatInside,
  vatOfPart,
  vatOfParts,
} from '../../src/trade/money/tax.js';
import { taxPoint } from '../../src/trade/money/tax-point.js';

const at = (percent: string) => ({ kind: 'standard', percent }) as const;

describe('VAT inside a gross price', () => {
  // HMRC, hmrc.gov.uk/vat/forms-rates/rates/calculating.htm; itsrelative.co.uk 2014;
  // accountingservicesforbusiness.co.uk. Mark: read, in two or more. 1/6 at 20, 1/21 at 5, 7/47 at 17.5, 3/23 at 15 %.
  test.each([
    [6000, '20', 1000],
    [8000, '5', 381],
    [12_000, '20', 2000],
    [11_750, '17.5', 1750],
    [11_500, '15', 1500],
  ])('%i at %s %% holds %i', (gross, percent, vat) => {
    expect(vatInside(gross, at(percent))).toBe(vat);
  });

  // HMRC VAT Traders' Records manual VATREC12030: below half a penny down, half a penny or more up (mark: read), and
  // VATREC12020: retailers may not always round down. The figures at 20 % are derived from it.
  test.each([
    [999, 167],
    [4500, 750],
    [3750, 625],
    [1999, 333],
    [25_000, 4167],
  ])('%i at 20 %% holds %i, half a penny up', (gross, vat) => {
    expect(vatInside(gross, at('20'))).toBe(vat);
  });

  test('net 100 and 20 % are 120, net 100 and 5 % are 105', () => {
    // HMRC, as above. Mark: read.
    expect(grossFromNet(10_000, at('20'))).toBe(12_000);
    expect(grossFromNet(10_000, at('5'))).toBe(10_500);
  });

  test('net 704.88 is 845.86 gross, and net and VAT add up to it', () => {
    // AAT forum example (mark: read): VAT of 140.976 rounded down by itself misses the total of 845.86 by a penny.
    const gross = grossFromNet(70_488, at('20'));
    expect([gross, vatInside(gross, at('20')), gross - vatInside(gross, at('20'))]).toEqual([84_586, 14_098, 70_488]);
  });
});

describe('a price paid in parts', () => {
  // A deposit is a tax point to the extent of the payment: VATA 1994 s6(4), HMRC VATTOS2225, VATTOS5105. Mark: read.
  // Figures derived. That the last part takes what is left is a choice of our own: no text read prescribes it.
  test('240.00 as a deposit of 60.00 and 180.00 bears 10.00 and 30.00', () => {
    expect(vatOfPart(0, 6000, at('20'))).toBe(1000);
    expect(vatOfPart(6000, 18_000, at('20'))).toBe(3000);
  });

  test('80.00 as 40.00 and 40.00 bears 13.33, not 13.34', () => {
    const parts = [vatOfPart(0, 4000, at('20')), vatOfPart(4000, 4000, at('20'))];
    expect(parts).toEqual([667, 666]);
    expect(vatInside(8000, at('20'))).toBe(1333);
  });
});

describe('a price whose parts bear different taxes', () => {
  // Apportioned by selling price, one of the two basic methods of VAT Notice 700, section 31 (claritaxnews.com, read; the notice itself
  // from memory). Half zero-rated and half standard-rated: nothing on one half of the selling price and 20 % on the other
  // (accountingweb.co.uk, any-answers/output-vat-multiple-supplies: an answer in a forum, so common practice). Figures derived.
  const halves = [
    { grossMinor: 1200, tax: at('0') },
    { grossMinor: 1200, tax: at('20') },
  ];
  test('24.00, half of it zero-rated, holds 2.00', () => {
    expect(vatOfParts(halves, 0, 2400)).toBe(200);
  });

  // VATA 1994 s6(4), as above: what is paid before is a tax point to its extent, here in the proportion of the parts (derived)
  test('a deposit of 6.00 on it bears 0.50, and the rest 1.50', () => {
    const taxed = (before: number, sum: number) =>
      payParts(halves, before, sum).map((p) => [p.amountMinor, p.vatMinor]);
    expect(taxed(0, 600)).toEqual([
      [300, 0],
      [300, 50],
    ]);
    expect(taxed(600, 1800)).toEqual([
      [900, 0],
      [900, 150],
    ]);
  });

  // derived: an exempt 80 % of 100.01 are 80.01, so the taxed rest is 20.00 with 3.33, whether paid in three parts or one
  test('teaching exempt and clay at 20 % in 100.01, paid as 33.34, 33.34 and 33.33', () => {
    const price = [
      { grossMinor: 2000, tax: at('20') },
      { grossMinor: 8001, tax: { kind: 'exempt' } as const },
    ];
    const vat = [vatOfParts(price, 0, 3334), vatOfParts(price, 3334, 3334), vatOfParts(price, 6668, 3333)];
    expect(vat).toEqual([111, 111, 111]);
    expect(vatOfParts(price, 0, 10_001)).toBe(333);
  });
});

// VATA 1994 s6, legislation.gov.uk, as HMRC's manual explains it. (2) and (3), the day of the supply: from memory. (4), a payment before
// it is a tax point to the extent of the payment (VATTOS2225), each part payment has its own (VATTOS5105, 5120): read.
describe('the tax point', () => {
  test.each([
    ['goods taken home, or a firing done, in July and paid in November', '2026-07-08', '2026-11-20', '2026-07-08'],
    ['what is paid on the day', '2026-07-08', '2026-07-08', '2026-07-08'],
    ['a deposit for what comes in November', '2026-11-20', '2026-07-08', '2026-07-08'],
    ['a deposit for what has no day yet', null, '2026-07-08', '2026-07-08'],
  ])('of %s', (_, suppliedOn, paidOn, point) => {
    expect(taxPoint(suppliedOn, paidOn)).toBe(point);
  });

  // check value (derived): a course of 240.00, deposit 60.00 and then 180.00: 10.00 + 30.00
  test('of each part payment has its VAT', () => {
    expect([vatOfPart(0, 6000, at('20')), vatOfPart(6000, 18_000, at('20'))]).toEqual([1000, 3000]);
  });
});

describe('a simplified invoice', () => {
  test('stands up to 250.00 with VAT, not for 250.01', () => {
    // VAT Regulations 1995 (SI 1995/2518) reg 16A, legislation.gov.uk. Mark: read.
    expect(simplifiedInvoiceAllowed(25_000, 25_000)).toBe(true);
    expect(simplifiedInvoiceAllowed(25_001, 25_000)).toBe(false);
  });

  test('stands up to 100.00 at the least in the EU', () => {
    // Directive 2006/112/EC art. 220a. Mark: read.
    expect(simplifiedInvoiceAllowed(10_000, 10_000)).toBe(true);
    expect(simplifiedInvoiceAllowed(10_001, 10_000)).toBe(false);
  });
});
