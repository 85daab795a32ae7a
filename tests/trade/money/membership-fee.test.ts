import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addDays, addMonths, daysBetween, monthOf } from '../../../src/trade/calendar/calendar.js';
import {
  type FeeTerms,
  feeFrom,
  lastDayAfterNotice,
  monthlyFee,
  monthsToCharge,
} from '../../../src/trade/money/membership-fee.js';

const terms = (more: Partial<FeeTerms> = {}): FeeTerms => ({
  ...{ chargedFrom: '2026-01-01', endsOn: null, pauses: [], pausePercent: '0' },
  fees: [{ fromMonth: '1900-01-01', feeMinor: 6000 }],
  ...more,
});
const amount = (month: string, more: Partial<FeeTerms> = {}) => monthlyFee(terms(more), month)?.amountMinor ?? null;

// Worked by hand, £60 a month; the quotient stands beside each.
describe('the fee of a month is, by its days,', () => {
  test.each([
    ['all of a month of 31, 28 and 29 days', '2026-01-01', {}, 6000],
    ['', '2026-02-01', {}, 6000],
    ['', '2028-02-01', {}, 6000],
    ['one day of January: 6000 / 31 = 193.548…', '2026-01-01', { chargedFrom: '2026-01-31' }, 194],
    ['all of the February that follows', '2026-02-01', { chargedFrom: '2026-01-31' }, 6000],
    ['one day of a leap February: 6000 / 29 = 206.896…', '2028-02-01', { chargedFrom: '2028-02-29' }, 207],
    ['one day of another: 6000 / 28 = 214.285…', '2026-02-01', { chargedFrom: '2026-02-28' }, 214],
    ['15 days of March: 6000 × 15 / 31 = 2903.225…', '2026-03-01', { endsOn: '2026-03-15' }, 2903],
    [
      '13 days and 15 paused at a quarter: 6000 × 16.75 / 28 = 3589.285…',
      '2026-02-01',
      { pausePercent: '25', pauses: [{ from: '2026-02-10', to: '2026-02-24' }] },
      3589,
    ],
    ['a month paused for nothing', '2026-02-01', { pauses: [{ from: '2026-01-20', to: '2026-03-05' }] }, 0],
    [
      'a month paused at half: 6000 / 2',
      '2026-02-01',
      { pausePercent: '50', pauses: [{ from: '2026-02-01', to: '2026-02-28' }] },
      3000,
    ],
    [
      'half a penny up: 4001 × 15 / 30 = 2000.5',
      '2026-04-01',
      { endsOn: '2026-04-15', fees: [{ fromMonth: '2026-01-01', feeMinor: 4001 }] },
      2001,
    ],
    ['nothing before it begins', '2026-01-01', { chargedFrom: '2026-02-01' }, null],
    ['nothing after it ends', '2026-04-01', { endsOn: '2026-03-31' }, null],
  ] as const)('%s', (_, month, more, minor) => {
    expect(amount(month, more)).toBe(minor);
  });

  test('the fee that holds in it, of two for one month the later named', () => {
    const fees = [
      { fromMonth: '2026-05-01', feeMinor: 6500 },
      { fromMonth: '2026-01-01', feeMinor: 6000 },
      { fromMonth: '2026-05-01', feeMinor: 6600 },
    ];
    expect(['2026-01-01', '2026-04-01', '2026-05-01', '2027-01-01'].map((month) => feeFrom(fees, month))).toEqual([
      6000, 6000, 6600, 6600,
    ]);
    expect(() => feeFrom(fees, '2025-12-01')).toThrow(RangeError);
  });
});

describe('notice given', () => {
  // common practice: a month from a day that the next month lacks ends on its last day
  test.each([
    ['2026-01-10', { noticeMonths: 1, noticeDays: null }, '2026-02-10'],
    ['2026-01-31', { noticeMonths: 1, noticeDays: null }, '2026-02-28'],
    ['2028-01-31', { noticeMonths: 1, noticeDays: null }, '2028-02-29'],
    ['2026-11-30', { noticeMonths: 3, noticeDays: null }, '2027-02-28'],
    ['2026-02-20', { noticeMonths: null, noticeDays: 14 }, '2026-03-06'],
    ['2026-02-20', { noticeMonths: 0, noticeDays: null }, '2026-02-20'],
  ])('on %s by %o ends on %s', (given, by, last) => {
    expect(lastDayAfterNotice(given, by)).toBe(last);
  });
});

test('the months to charge are those that have begun, and none twice', () => {
  const all = { chargedFrom: '2026-01-31', endsOn: null };
  expect(monthsToCharge(all, '2026-01-30')).toEqual([]);
  expect(monthsToCharge(all, '2026-01-31')).toEqual(['2026-01-01']);
  expect(monthsToCharge(all, '2026-03-01')).toEqual(['2026-01-01', '2026-02-01', '2026-03-01']);
  expect(monthsToCharge({ ...all, endsOn: '2026-02-01' }, '2026-06-01')).toEqual(['2026-01-01', '2026-02-01']);
});

const day = fc.integer({ min: 0, max: 1500 }).map((n) => addDays('2026-01-01', n));
const fee = fc.integer({ min: 1, max: 30_000 });
const percent = fc.integer({ min: 0, max: 100 }).map(String);

describe('whatever the days,', () => {
  test('a month is charged no more than its fee, and a whole one exactly', () => {
    fc.assert(
      fc.property(day, fee, percent, fc.integer({ min: 0, max: 60 }), (from, feeMinor, pausePercent, length) => {
        const fees = [{ fromMonth: '1900-01-01', feeMinor }];
        const pauses = [{ from: addDays(from, 3), to: addDays(from, 3 + length) }];
        const paused = terms({ chargedFrom: from, fees, pauses, pausePercent });
        const plain = terms({ chargedFrom: from, fees });
        for (const month of monthsToCharge(paused, addDays(from, 100))) {
          const [less, all] = [monthlyFee(paused, month), monthlyFee(plain, month)];
          if (!less || !all) throw new Error('Each month that is charged has a day that counts.');
          expect(less.amountMinor).toBeLessThanOrEqual(all.amountMinor);
          expect(all.amountMinor).toBeLessThanOrEqual(feeMinor);
          expect(less.fullDays + less.pausedDays).toBe(all.fullDays);
          if (month > from) expect(all.amountMinor).toBe(feeMinor);
        }
      }),
    );
  });

  test('two memberships, one after the other, come to what one does, to the penny of each rounding', () => {
    fc.assert(
      fc.property(day, fc.integer({ min: 1, max: 400 }), fee, (from, length, feeMinor) => {
        const fees = [{ fromMonth: '1900-01-01', feeMinor }];
        const until = addDays(from, length);
        const sum = (of: FeeTerms) =>
          monthsToCharge(of, addDays(from, 800)).reduce(
            (so, month) => so + (monthlyFee(of, month)?.amountMinor ?? 0),
            0,
          );
        const end = addDays(from, 700);
        const one = sum(terms({ chargedFrom: from, endsOn: end, fees }));
        const first = sum(terms({ chargedFrom: from, endsOn: until, fees }));
        const second = sum(terms({ chargedFrom: addDays(until, 1), endsOn: end, fees }));
        expect(Math.abs(first + second - one)).toBeLessThanOrEqual(1);
      }),
    );
  });

  test('each day belongs to one month that is charged', () => {
    fc.assert(
      fc.property(day, fc.integer({ min: 0, max: 800 }), (from, length) => {
        const until = addDays(from, length);
        const of = terms({ chargedFrom: from, endsOn: until });
        const months = monthsToCharge(of, addMonths(until, 3));
        const days = months.reduce((so, month) => so + (monthlyFee(of, month)?.fullDays ?? 0), 0);
        expect(days).toBe(daysBetween(from, until) + 1);
        expect([months[0], months.at(-1)]).toEqual([monthOf(from), monthOf(until)]);
      }),
    );
  });
});
