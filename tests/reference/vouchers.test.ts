import { describe, expect, test } from 'vitest';
import { voucherLines } from '../../src/studio/accounts/vouchers/moves.js';
import { vatInside, vatOfPart } from '../../src/trade/money/tax.js';

// Council Directive (EU) 2016/1065 put vouchers into Directive 2006/112/EC: art. 30a tells one of a single purpose (place of supply
// and VAT known at issue) from one of many; art. 30b: of a single purpose, its transfer is the supply and handing over what it buys
// is none of its own; of many, handing over is the supply and the transfers before it bear no VAT; art. 73a: what it is worth is
// what was paid for the voucher or, where that isn't known, what stands on it, less VAT. Articles from memory; the directive's title
// and recitals seen at eur-lex.europa.eu, CELEX 32016L1065.
// VATA 1994 Sch 10B (legislation.gov.uk, read): para 4, a single purpose where place of supply and one supply category are known at
// issue; exempt and untaxed supplies are such a category too; para 5 (in a summary, read): handing over is no supply of its own;
// para 7, what is paid for a voucher of many purposes is disregarded; para 8, accepting it is a supply, whose value with its VAT is
// what was paid for it, or else its face value.
// Which of them a voucher is, and which rates hold, is the studio's choice, with its accountant. The figures are derived.
const at20 = { kind: 'standard', percent: '20' } as const;
const vatOf = (lines: ReturnType<typeof voucherLines>) =>
  lines.reduce((sum, line) => sum - (line.account === 'vat' ? line.amountMinor : 0), 0);

describe('a voucher of one purpose', () => {
  // art. 30b(1), Sch 10B para 4 and 5
  test('of 60.00 at 20 % bears 10.00 of VAT when it is sold, and none when it is used', () => {
    const sold = vatOf(voucherLines(0, 6000, at20));
    expect(sold).toBe(1000);
    // the course that it pays brings its own 10.00, which comes off the voucher: together no more than at the sale
    expect(sold + vatOf(voucherLines(6000, -6000, at20)) + vatInside(6000, at20)).toBe(1000);
  });

  test('used bit by bit bears 13.33 in 80.00 over its life, not 13.34', () => {
    const parts = [vatOf(voucherLines(8000, -4000, at20)), vatOf(voucherLines(4000, -4000, at20))];
    expect(parts.reduce((sum, vat) => sum + vat, vatOf(voucherLines(0, 8000, at20)))).toBe(0);
    expect(vatOf(voucherLines(0, 8000, at20))).toBe(1333);
  });

  // Sch 10B para 4(2)(d): exempt and untaxed supplies are a category of their own
  test.each(['exempt', 'outside'] as const)('for what is %s bears none at either time', (kind) => {
    expect(vatOf(voucherLines(0, 6000, { kind }))).toBe(0);
    expect(vatOf(voucherLines(6000, -6000, { kind }))).toBe(0);
  });
});

describe('a voucher of many purposes', () => {
  // art. 30b(2) and 73a, Sch 10B para 7(1) and 8: face value 60.00, so 50.00 and 10.00 of VAT when it pays for what bears 20 %
  test('of 60.00 bears none when it is sold, and 10.00 when it pays for what bears 20 %', () => {
    expect(vatOf(voucherLines(0, 6000, null))).toBe(0);
    expect(vatOfPart(0, 6000, at20)).toBe(1000);
    expect(vatOf(voucherLines(6000, -6000, null))).toBe(0);
  });
});
