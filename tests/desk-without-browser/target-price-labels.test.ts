import { describe, expect, test } from 'vitest';
import { wordsIn } from '../../src/desk/pages/courses/pricing/labels';
import { changeInWords } from '../../src/desk/pages/courses/pricing/target-price-labels';
import type { CeilingChange } from '../../src/trade/pricing/course-price.js';
import { surplusByHour } from '../../src/trade/pricing/input-changes.js';
import { EVENINGS } from '../support/price-case.js';

const words = wordsIn({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London' });
const told = (key: CeilingChange['key'], from: string, to: string, inputs = EVENINGS) =>
  changeInWords({ key, from, to, step: '1', limit: '0', relativePart: null }, inputs, words).replaceAll('\u00a0', ' ');

describe('a change that brings the price down', () => {
  test.each([
    ['more-places', '8', '9', 'Offer 9 places instead of 8.'],
    ['fewer-places', '8', '1', 'Offer 1 place instead of 8.'],
    ['higher-minimum', '4', '5', 'Run it from 5 students instead of 4.'],
    ['lower-minimum', '4', '1', 'Run it from 1 student instead of 4.'],
    ['alone', '6', '8', 'Teach up to 8 students without a second tutor instead of 6.'],
    ['hours', '10.333333', '9.083333', 'Spend 9 h 5 min on it instead of 10 h 20 min, besides those for each student.'],
    ['hours', '2', '0.75', 'Spend 45 min on it instead of 2 h, besides those for each student.'],
    ['surplus', '6000', '4500', 'Aim for a surplus of £45.00 instead of £60.00.'],
    ['wage', '2400', '2260', 'Put your hour at £22.60 instead of £24.00.'],
    ['pay-floor', '1200', '900', 'Accept £9.00 as the least pay for an hour instead of £12.00.'],
    ['risk', '0.05', '0.12', 'Accept less than £12.00 an hour 12.0% of the time instead of 5.0%.'],
    ['materials', '100', '60', 'Get clay, glaze and the other materials for 40% less.'],
    ['loads', '100', '120', 'Put 20% more ware into each kiln load.'],
    ['advertising', '100', '75', 'Spend 25% less on advertising.'],
    ['advertising', '100', '0', 'Do without advertising.'],
  ] as const)('%s from %s to %s', (key, from, to, sentence) => {
    expect(told(key, from, to)).toBe(sentence);
  });

  test('says what a surplus by the hour makes altogether', () => {
    const inputs = { ...EVENINGS, ...surplusByHour(800, '7.5') };
    expect(told('surplus', '800', '600', inputs)).toBe(
      'Aim for a surplus of £6.00 an hour of teaching instead of £8.00: £45.00 instead of £60.00 altogether.',
    );
  });

  test('names no hours for each student where there are none', () => {
    expect(told('hours', '3', '2', { ...EVENINGS, ownerHoursPerStudent: '0' })).toBe('Spend 2 h on it instead of 3 h.');
  });
});
