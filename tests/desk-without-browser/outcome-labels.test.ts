import { describe, expect, test } from 'vitest';
import { wordsIn } from '../../src/desk/pages/courses/pricing/labels';
import { leaves, targetSurplusInWords } from '../../src/desk/pages/courses/pricing/outcome-labels';
import { surplusByHour } from '../../src/trade/pricing/input-changes.js';

const { money } = wordsIn({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London' });

describe('what a price leaves', () => {
  test.each([
    ['4000', '20000', 'it leaves £40.00'],
    ['0', '16000', 'it leaves £0.00'],
    ['-1200', '14800', 'it pays your time £12.00 short'],
    ['-16000', '0', 'it pays your time £160.00 short'],
    ['-16500', '-500', 'it loses £5.00 before your time is paid'],
  ])('%s, and %s before the owner is paid: %s', (result, before, told) =>
    expect(leaves(result, before, money)).toBe(told),
  );
});

test('a surplus is told with how it comes about, where that is known', () => {
  expect(targetSurplusInWords(surplusByHour(800, '7'), money)).toBe(
    'the surplus of £56.00 that you want (£8.00 for each of 7 hours of teaching)',
  );
  expect(targetSurplusInWords({ targetSurplusMinor: 6000 }, money)).toBe('the surplus of £60.00 that you want');
});
