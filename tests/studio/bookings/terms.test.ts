import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { instalments, paymentsFor } from '../../../src/studio/bookings/terms.js';
import { daysBetween } from '../../../src/trade/calendar/calendar.js';

const course = { priceMinor: 24_000, depositMinor: 6000, balancePayments: 1, balanceDueDays: 14, balanceEveryDays: 28 };
const inThree = { ...course, balancePayments: 3 };
/** Of a course that begins on 14 April 2026. */
const asked = ({ balanceDueDays, balanceEveryDays, ...charged }: typeof course, firstDueOn: string) =>
  instalments([charged], { balanceDueDays, balanceEveryDays }, firstDueOn, '2026-04-14').map((due) => [
    due.dueOn,
    due.amountMinor,
  ]);

describe('how a booking is paid', () => {
  test.each<[string, typeof course, string, [string, number][]]>([
    [
      'a deposit as the hold ends, the balance two weeks before',
      course,
      '2026-03-10',
      [
        ['2026-03-10', 6000],
        ['2026-03-31', 18_000],
      ],
    ],
    [
      'a hold that ends the day before the balance is due',
      course,
      '2026-03-30',
      [
        ['2026-03-30', 6000],
        ['2026-03-31', 18_000],
      ],
    ],
    ['a hold that ends on that day: all at once', course, '2026-03-31', [['2026-03-31', 24_000]]],
    ['a hold that ends after it: no balance before the hold ends', course, '2026-04-13', [['2026-04-13', 24_000]]],
    ['no deposit', { ...course, depositMinor: 0 }, '2026-03-10', [['2026-03-31', 24_000]]],
    ['a deposit that is the price', { ...inThree, depositMinor: 24_000 }, '2026-03-10', [['2026-03-10', 24_000]]],
    [
      'the balance in three payments, four weeks apart, over the change of the clock on 29 March',
      inThree,
      '2026-01-10',
      [
        ['2026-01-10', 6000],
        ['2026-02-03', 6000],
        ['2026-03-03', 6000],
        ['2026-03-31', 6000],
      ],
    ],
    [
      'a hold that ends after the first of them: it is due with the deposit',
      inThree,
      '2026-02-20',
      [
        ['2026-02-20', 12_000],
        ['2026-03-03', 6000],
        ['2026-03-31', 6000],
      ],
    ],
    [
      'a hold that ends on the day of the second: two are due with the deposit',
      inThree,
      '2026-03-03',
      [
        ['2026-03-03', 18_000],
        ['2026-03-31', 6000],
      ],
    ],
    [
      'three payments without a deposit; an odd penny falls on the first',
      { ...inThree, depositMinor: 0, priceMinor: 10_000 },
      '2026-01-10',
      [
        ['2026-02-03', 3334],
        ['2026-03-03', 3333],
        ['2026-03-31', 3333],
      ],
    ],
    [
      'a balance of fewer pennies than payments',
      { ...inThree, depositMinor: 23_998 },
      '2026-01-10',
      [
        ['2026-01-10', 23_998],
        ['2026-03-03', 1],
        ['2026-03-31', 1],
      ],
    ],
  ])('%s', (_, terms, firstDueOn, due) => {
    expect(asked(terms, firstDueOn)).toEqual(due);
  });

  test('places that are paid in different ways are asked for together, day by day', () => {
    const atOnce = { priceMinor: 9000, depositMinor: 9000, balancePayments: 1 };
    expect(instalments([inThree, atOnce], inThree, '2026-02-20', '2026-04-14')).toEqual([
      { dueOn: '2026-02-20', amountMinor: 21_000 },
      { dueOn: '2026-03-03', amountMinor: 6000 },
      { dueOn: '2026-03-31', amountMinor: 6000 },
    ]);
  });

  const day = fc.integer({ min: 1, max: 28 }).map((d) => `2026-03-${String(d).padStart(2, '0')}`);
  const charged = fc
    .tuple(
      fc.integer({ min: 1, max: 100_000 }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.integer({ min: 1, max: 11 }),
    )
    .map(([priceMinor, part, balancePayments]) => ({
      ...{ priceMinor, balancePayments },
      depositMinor: Math.floor(priceMinor * part),
    }));

  test('the parts add up to the price, each is something, no two fall on one day, and none is due before the hold ends', () => {
    const dates = fc.record({ balanceDueDays: fc.nat(60), balanceEveryDays: fc.integer({ min: 1, max: 92 }) });
    fc.assert(
      fc.property(fc.array(charged, { minLength: 1, maxLength: 4 }), dates, day, day, (list, of, a, b) => {
        const [holdEndsOn, firstDay] = [a, b].sort() as [string, string];
        const due = instalments(list, of, holdEndsOn, firstDay);
        const sum = (all: readonly number[]) => all.reduce((x, y) => x + y, 0);
        expect(sum(due.map(({ amountMinor }) => amountMinor))).toBe(sum(list.map(({ priceMinor }) => priceMinor)));
        expect(due.every(({ amountMinor, dueOn }) => amountMinor > 0 && dueOn >= holdEndsOn)).toBe(true);
        const days = due.map(({ dueOn }) => dueOn);
        expect(days).toEqual([...new Set(days)].sort());
      }),
    );
  });

  test('booked early, there are as many payments as card fees are reckoned for, evenly apart and even to a penny', () => {
    fc.assert(
      fc.property(charged, fc.integer({ min: 1, max: 92 }), (of, balanceEveryDays) => {
        const due = instalments([of], { balanceDueDays: 14, balanceEveryDays }, '2020-01-01', '2026-04-14');
        expect(due).toHaveLength(paymentsFor(of));
        const balance = of.depositMinor > 0 ? due.slice(1) : due;
        const sums = balance.map(({ amountMinor }) => amountMinor);
        if (sums.length > 0) expect(Math.max(...sums) - Math.min(...sums)).toBeLessThanOrEqual(1);
        for (const [i, { dueOn }] of balance.entries())
          expect(daysBetween(dueOn, '2026-03-31')).toBe((balance.length - 1 - i) * balanceEveryDays);
      }),
    );
  });
});
