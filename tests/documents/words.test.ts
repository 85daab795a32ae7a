import { describe, expect, test } from 'vitest';
import { countOf, dateInWords, moneyIn, percentInWords, unitPrice } from '../../src/documents/words.js';

const pounds = { currency: 'GBP', locale: 'en-GB' };

describe('a day in words', () => {
  test('is the same day wherever the program runs', () => {
    const zone = process.env.TZ;
    try {
      for (const TZ of ['Pacific/Kiritimati', 'UTC', 'Pacific/Pago_Pago']) {
        process.env.TZ = TZ;
        expect(dateInWords('2026-03-12', 'en-GB')).toBe('12 March 2026');
      }
    } finally {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    }
  });
  test('follows the locale within English and no further', () => {
    expect(dateInWords('2026-03-12', 'en-US')).toBe('March 12, 2026');
    expect(dateInWords('2026-03-12', 'de-DE')).toBe('12 March 2026');
    expect(dateInWords('2026-03-12', 'en-GB', true)).toMatch(/^Thursday,? 12 March 2026$/);
  });
});

describe('figures', () => {
  test('a unit price shows two more digits only where it needs them', () => {
    expect(unitPrice(35_000, 7, pounds)).toBe('£50.00');
    expect(unitPrice(2380, 3, pounds)).toBe('£7.9333');
    expect(unitPrice(1000, 3, { currency: 'JPY', locale: 'en-JP' })).toMatch(/333\.33$/);
  });
  test('money whose sign the font lacks is written by letters', () => {
    expect(moneyIn({ currency: 'GEL', locale: 'ka-GE' })(1250)).toMatch(/GEL/);
    expect(moneyIn(pounds)(1250)).toBe('£12.50');
  });
  test('a rate keeps its digits', () => {
    expect(percentInWords('17.5', 'en-GB')).toBe('17.5\u00a0%');
    expect(percentInWords('5.5', 'de-DE')).toBe('5,5\u00a0%');
  });
  test('one piece, two pieces', () => {
    expect([countOf(1, 'piece'), countOf(2, 'piece')]).toEqual(['1\u00a0piece', '2\u00a0pieces']);
  });
});
