import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import { blockedPercent, inputVatLines, type SuppliedPart } from '../../../src/trade/pricing/input-vat.js';
import { CLAY, OTHER, ROOM } from '../../support/cost-kinds.js';
import { line } from '../../support/price-case.js';

const kinds = ['standard', 'exempt', 'outside'] as const;
const exempt = (sharePercent: string): SuppliedPart => ({ sharePercent, kind: 'exempt' });

describe('what of the input VAT is blocked', () => {
  test('is nothing of a taxed price, all of an exempt one, and the exempt share of one that is both', () => {
    expect(blockedPercent('standard', []).toNumber()).toBe(0);
    expect(blockedPercent('exempt', []).toNumber()).toBe(100);
    expect(blockedPercent('outside', []).toNumber()).toBe(100);
    expect(blockedPercent('standard', [exempt('60')]).toNumber()).toBe(60);
    expect(blockedPercent('exempt', [{ sharePercent: '25.5', kind: 'standard' }]).toNumber()).toBe(74.5);
  });

  test('lies between nothing and all, whatever the parts', () => {
    const part = fc.record({
      sharePercent: fc.integer({ min: 0, max: 33 }).map(String),
      kind: fc.constantFrom(...kinds),
    });
    fc.assert(
      fc.property(fc.constantFrom(...kinds), fc.array(part, { maxLength: 3 }), (rest, parts) => {
        const blocked = blockedPercent(rest, parts);
        const taxed = blockedPercent(rest === 'standard' ? 'exempt' : 'standard', parts);
        expect(blocked.gte(0) && blocked.lte(100)).toBe(true);
        const ofParts = parts.reduce((sum, { sharePercent }) => sum + Number(sharePercent), 0);
        expect(blocked.minus(taxed).abs().toNumber()).toBe(100 - ofParts); // the rest alone makes the difference
      }),
    );
  });

  test('is refused where the parts come to more than the whole', () => {
    expect(() => blockedPercent('standard', [exempt('60'), exempt('41')])).toThrow('more than the whole');
  });
});

describe('the lines of input VAT', () => {
  const lines = [
    line(CLAY, 'per-student', '2', '150'),
    line(OTHER, 'per-student', '1', '45'),
    line(ROOM, 'per-course', '10', '650', 'h'),
  ];
  const percentOf = ({ kind }: { kind: string }) => (kind === 'room' ? '5' : '20');

  test('hold what the bills bear, of what is blocked, for the student and for the course', () => {
    // 20 % of 3.00 and 0.45, 5 % of 65.00; 40 % of it
    expect(inputVatLines(lines, percentOf, new Decimal(40))).toMatchObject([
      { key: 'input-vat-per-student', basis: 'per-student', quantity: '1', unit: 'student', rateMinor: '27.6' },
      { key: 'input-vat-per-course', basis: 'per-course', quantity: '1', unit: 'course', rateMinor: '130' },
    ]);
  });

  test('are none where nothing is blocked, or nothing bears VAT', () => {
    expect(inputVatLines(lines, percentOf, new Decimal(0))).toEqual([]);
    expect(inputVatLines(lines, () => '0', new Decimal(100))).toEqual([]);
  });
});
