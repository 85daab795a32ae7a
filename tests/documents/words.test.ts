import { describe, expect, test } from 'vitest';
import { rateInWords } from '../../src/documents/vat-lines.js';
import { countOf, dateInWords, moneyInWords, unitPrice } from '../../src/documents/words.js';

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
    expect(dateInWords('2026-03-12', 'en-GB', true)).toBe('Thursday 12 March 2026');
  });
});

describe('figures', () => {
  test('a unit price shows two more digits only where it needs them', () => {
    expect(unitPrice(35_000, 7, pounds)).toBe('£50.00');
    expect(unitPrice(2380, 3, pounds)).toBe('£7.9333');
    expect(unitPrice(1000, 3, { currency: 'JPY', locale: 'en-JP' })).toMatch(/333\.33$/);
  });
  test('money whose sign the font lacks is written by letters', () => {
    expect(moneyInWords({ currency: 'GEL', locale: 'ka-GE' })(1250)).toMatch(/GEL/);
    expect(moneyInWords(pounds)(1250)).toBe('£12.50');
  });
  test('a rate keeps its digits, and is written as HMRC writes it', () => {
    const at = (vatPercent: string, locale: string) => rateInWords({ vatPercent, taxLabel: '' }, locale);
    expect([at('17.5', 'en-GB'), at('20', 'en-GB'), at('5.5', 'de-DE')]).toEqual(['17.5%', '20%', '5,5\u00a0%']);
    expect(rateInWords({ vatPercent: null, taxLabel: 'exempt from VAT' }, 'en-GB')).toBe('exempt from VAT');
  });
  test('money below zero has a true minus, which the font has', () => {
    expect(moneyInWords(pounds)(-333_40)).toBe('−£333.40');
    expect(moneyInWords({ currency: 'EUR', locale: 'de-DE' })(-1250)).toBe('−12,50\u00a0€');
  });
  test('one piece, two pieces', () => {
    expect([countOf(1, 'piece'), countOf(2, 'piece')]).toEqual(['1\u00a0piece', '2\u00a0pieces']);
  });
});
