import { describe, expect, test } from 'vitest';
import { formatterFor } from '../../src/desk/format/formatter.js';
import {
  amount,
  answerOf,
  better,
  broken,
  certaintyInWords,
  figure,
} from '../../src/desk/pages/courses/results/labels.js';
import type { NextPlan, Was } from '../../src/desk/pages/courses/results/queries.js';

const formatter = formatterFor({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London' });
const NBSP = '\u00a0';
const total = (resultMinor: number, payPerHourMinor: number | null) => ({ resultMinor, hours: '10', payPerHourMinor });
const was = (changes: Partial<Was> = {}): Was => ({
  ...{ courseId: '1', title: 'Two mugs', currency: 'GBP', students: 1, priceMinor: 12_000, othersMinutes: 0 },
  plannedFrom: { quoteId: null, detail: '' },
  ...{ lines: [], wholePlanMinor: 0, planned: total(2000, 2400), real: total(2000, 2400), differenceMinor: 0 },
  ...{ because: [], unknown: [], stillOpen: [] },
  breakages: { made: 10, lost: 1, firedAgain: 0, plannedPercent: '13.043478', realPercent: '10', howToKnow: null },
  ...changes,
});

describe('the answer', () => {
  test('names the greatest effect that goes the same way', () => {
    const because = [
      { key: 'takings', label: 'Takings', differenceMinor: 900 },
      { key: 'clay', label: 'Clay', differenceMinor: -3000 },
    ].sort((a, b) => Math.abs(b.differenceMinor) - Math.abs(a.differenceMinor));
    const said = (changes: Partial<Was>) => Object.values(answerOf(was(changes), formatter)).join('');
    expect(said({ because, differenceMinor: -2100, real: total(-100, 2190) })).toBe(
      '“Two mugs” with one student came £1 short of paying your time, £21 worse than planned; “Clay” counts most (£30). You got £21.90 an hour, where £24 was planned.',
    );
    expect(said({ real: total(-25_000, -100) })).toContain('lost £250 once your time is paid');
    expect(said({ because, differenceMinor: 100 })).toContain('£1 better than planned; “Takings” counts most (£9)');
  });

  test('says where it came out as planned, or the pay is not known', () => {
    expect(answerOf(was({ real: total(2000, null) }), formatter)).toEqual({
      before: '“Two mugs” with one student left ',
      figure: '£20',
      after: ' once your time is paid, as planned. What you got an hour is not known, as none of your time was noted.',
    });
  });
});

test('how sure the sums are', () => {
  expect(certaintyInWords(was())).toBe('The actual amount of every line is known.');
  expect(certaintyInWords(was({ unknown: ['clay'], stillOpen: ['One session is still to come.'] }))).toBe(
    'One line is in neither sum: the actual amount is not known. One session is still to come.',
  );
  expect(certaintyInWords(was({ unknown: ['clay', 'glaze'] }))).toContain('Two lines are in neither sum');
});

test('what broke, against what was reckoned with', () => {
  expect(broken(was())).toBe(`One piece of 10 cracked or got lost, 10%; 13% was allowed for.`);
  const { breakages } = was();
  expect(broken(was({ breakages: { ...breakages, firedAgain: 2 } }))).toContain(
    'Two pieces went through a firing again.',
  );
  expect(broken(was({ breakages: { ...breakages, realPercent: null, howToKnow: 'Take it in.' } }))).toBe('Take it in.');
});

test('amounts and figures, each with its unit', () => {
  expect(amount({ quantity: '5' }, 'place', formatter)).toBe(`5${NBSP}places`);
  expect(amount({ quantity: '1' }, 'kiln load', formatter)).toBe(`1${NBSP}kiln load`);
  expect(amount({ quantity: '10.7654' }, 'kg', formatter)).toBe(`10.77${NBSP}kg`);
  expect(amount({ quantity: '-0.94' }, 'kg', formatter)).toBe(`−0.94${NBSP}kg`);
  expect(amount({ quantity: '1' }, 'course', formatter)).toBe('1');
  const of = (unit: string) => ({ unit }) as NextPlan['proposals'][number];
  expect(figure('1123.5', of('g'), formatter)).toBe(`1,124${NBSP}g`);
  expect(figure('4.583334', of('h'), formatter)).toBe(`4.58${NBSP}h`);
  expect(figure(null, of('h'), formatter)).toBe('');
  expect([better(0, formatter.money), better(-5, formatter.money), better(5, formatter.money)]).toEqual([
    ...['as planned', '£0.05 worse', '£0.05 better'],
  ]);
});
