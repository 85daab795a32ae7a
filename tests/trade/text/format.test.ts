import { describe, expect, it } from 'vitest';
import { formatDay, formatPercent } from '../../../src/trade/text/format.js';

describe('a day for a person to read', () => {
  it('has a weekday without a comma in Britain, whatever the version of ICU', () => {
    expect(formatDay('2026-12-09', 'en-GB')).toBe('9 December 2026');
    expect(formatDay('2026-12-09', 'en-GB', { weekday: true })).toBe('Wednesday 9 December 2026');
    expect(formatDay('2026-12-09', 'en-IN', { weekday: true })).toBe('Wednesday 9 December 2026');
    expect(formatDay('2028-02-29', 'en-GB', { weekday: true })).toBe('Tuesday 29 February 2028');
  });

  it('leaves the year out where it is told to', () => {
    expect(formatDay('2026-12-09', 'en-GB', { year: false })).toBe('9 December');
    expect(formatDay('2026-12-09', 'en-GB', { weekday: true, year: false })).toBe('Wednesday 9 December');
  });

  it('keeps the order and the commas of another English', () => {
    expect(formatDay('2026-12-09', 'en-US', { weekday: true })).toBe('Wednesday, December 9, 2026');
    expect(formatDay('2026-12-09', 'en-US')).toBe('December 9, 2026');
  });

  it('stays English where the numbers are of another language', () => {
    expect(formatDay('2026-12-09', 'de-DE', { weekday: true })).toBe('Wednesday 9 December 2026');
  });
});

describe('a percentage for a person to read', () => {
  it('has its sign close up in English, and as the locale spaces it elsewhere', () => {
    expect(formatPercent('20', 'en-GB')).toBe('20%');
    expect(formatPercent('17.5', 'en-GB')).toBe('17.5%');
    expect(formatPercent('5.5', 'de-DE')).toBe('5,5\u00a0%');
  });

  it('keeps the decimals that were given, up to four', () => {
    expect(formatPercent('0.0001', 'en-GB')).toBe('0.0001%');
    expect(formatPercent('33.3333', 'en-GB')).toBe('33.3333%');
    expect(formatPercent('100', 'en-GB')).toBe('100%');
  });

  it('has a true minus', () => {
    expect(formatPercent('-10', 'en-GB')).toBe('−10%');
  });
});
