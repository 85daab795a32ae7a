import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { instalments } from '../../../src/studio/bookings/terms.js';

const course = { priceMinor: 12_000, depositMinor: 3000, balanceDueDays: 14 };

describe('how a booking is paid', () => {
  test.each([
    [
      'a deposit now, the balance two weeks before',
      course,
      '2026-03-10',
      [
        { dueOn: '2026-03-10', amountMinor: 6000 },
        { dueOn: '2026-03-31', amountMinor: 18_000 },
      ],
    ],
    [
      'the day before the balance is due',
      course,
      '2026-03-30',
      [
        { dueOn: '2026-03-30', amountMinor: 6000 },
        { dueOn: '2026-03-31', amountMinor: 18_000 },
      ],
    ],
    ['all at once on the day it is due', course, '2026-03-31', [{ dueOn: '2026-03-31', amountMinor: 24_000 }]],
    ['all at once after that', course, '2026-04-13', [{ dueOn: '2026-04-13', amountMinor: 24_000 }]],
    ['no deposit', { ...course, depositMinor: 0 }, '2026-03-10', [{ dueOn: '2026-03-31', amountMinor: 24_000 }]],
    [
      'a deposit that is the price',
      { ...course, depositMinor: 12_000 },
      '2026-03-10',
      [{ dueOn: '2026-03-10', amountMinor: 24_000 }],
    ],
  ])('%s', (_, terms, today, due) => {
    const { priceMinor, depositMinor } = terms;
    const charged = { ...terms, priceMinor: priceMinor * 2, depositMinor: depositMinor * 2 };
    expect(instalments(charged, today, '2026-04-14')).toEqual(due);
  });

  test('the parts add up to the price, each is something, and no two fall on one day', () => {
    const day = fc.integer({ min: 1, max: 28 }).map((d) => `2026-03-${String(d).padStart(2, '0')}`);
    const terms = fc
      .tuple(fc.integer({ min: 1, max: 100_000 }), fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(60))
      .map(([priceMinor, part, balanceDueDays]) => ({
        priceMinor,
        depositMinor: Math.floor(priceMinor * part),
        balanceDueDays,
      }));
    fc.assert(
      fc.property(terms, day, day, (of, a, b) => {
        const [today, firstDay] = [a, b].sort() as [string, string];
        const due = instalments(of, today, firstDay);
        expect(due.reduce((sum, { amountMinor }) => sum + amountMinor, 0)).toBe(of.priceMinor);
        expect(due.every(({ amountMinor, dueOn }) => amountMinor > 0 && dueOn >= today)).toBe(true);
        expect(new Set(due.map(({ dueOn }) => dueOn)).size).toBe(due.length);
      }),
    );
  });
});
