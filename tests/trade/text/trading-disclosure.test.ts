import { describe, expect, test } from 'vitest';
import { type Trader, tradingDisclosure } from '../../../src/trade/text/trading-disclosure.js';

const studio: Trader = {
  name: 'Alder Lane Pottery',
  ...{ legalName: null, legalAddress: null, companyNumber: null, registeredIn: null },
};
const company = { companyNumber: '00000000', registeredIn: 'Scotland', legalAddress: '1 Kiln Yard, Ostlemere' };

// Companies Act 2006 ss 1200 to 1204, and SI 2015/17 regs 24 and 25; both from memory
describe('who is behind a studio', () => {
  test.each<[string, Partial<Trader>, string | null]>([
    ['a person who trades under their own name', {}, null],
    ['a person whose own name is that of the studio', { legalName: studio.name }, null],
    [
      'a person under another name, at the address of the studio',
      { legalName: 'Ines Duval' },
      'Alder Lane Pottery is a business name of Ines Duval. Address for service: as above.',
    ],
    [
      'partners with an address of their own',
      { legalName: 'Ines Duval and Tomas Reyl', legalAddress: '14 Mill Row, Ostlemere' },
      'Alder Lane Pottery is a business name of Ines Duval and Tomas Reyl. Address for service: 14 Mill Row, Ostlemere.',
    ],
    [
      'a company of the same name',
      company,
      'Registered in Scotland, company number 00000000. Registered office: 1 Kiln Yard, Ostlemere.',
    ],
    [
      'a company under another name',
      { ...company, legalName: 'Duval Ceramics Ltd' },
      'Alder Lane Pottery is a business name of Duval Ceramics Ltd, registered in Scotland, company number 00000000. Registered office: 1 Kiln Yard, Ostlemere.',
    ],
  ])('%s', (_, change, said) => {
    expect(tradingDisclosure({ ...studio, ...change })).toBe(said);
  });
});
