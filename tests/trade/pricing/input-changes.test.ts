import { describe, expect, it } from 'vitest';
import { isFiring } from '../../../src/trade/pricing/cost-lines.js';
import { dearer, dearerElectricity, fullerLoads } from '../../../src/trade/pricing/input-changes.js';
import { BISQUE, CLAY } from '../../support/cost-kinds.js';
import { EVENINGS, line } from '../../support/price-case.js';

const fired = (electricityMinor?: string) => ({
  ...EVENINGS,
  lines: [
    { ...line(BISQUE, 'per-student', '0.05', '2400', 'kiln load'), ...(electricityMinor && { electricityMinor }) },
    line(CLAY, 'per-student', '4', '100'),
  ],
});
const firing = (inputs: ReturnType<typeof fired>) => inputs.lines[0];

describe('dearer electricity', () => {
  it('leaves what wears out as it is, and says what of the new rate is electricity', () => {
    // 20.00 of 24.00 is electricity: a tenth more is 2.00
    expect(firing(dearerElectricity(fired('2000'), 10))).toMatchObject({ rateMinor: '2600', electricityMinor: '2200' });
    expect(dearerElectricity(fired('2000'), 10).lines[1]).toEqual(fired().lines[1]);
  });

  it('twice in a row is a tenth more of what is a tenth dearer already', () => {
    // 20.00, 22.00, 24.20: with the 4.00 of wear 28.20
    const twice = dearerElectricity(dearerElectricity(fired('2000'), 10), 10);
    expect(firing(twice)).toMatchObject({ rateMinor: '2820', electricityMinor: '2420' });
  });

  it('is all of the rate where it does not say, and from then on it says so', () => {
    expect(firing(dearerElectricity(fired(), 10))).toMatchObject({ rateMinor: '2640', electricityMinor: '2640' });
  });
});

it('one change after the other keeps each: a tenth dearer in fuller loads', () => {
  const both = fullerLoads(dearer(fired('2000'), isFiring, 10), 25);
  expect(firing(both)).toMatchObject({ rateMinor: '2640', quantity: '0.04' });
});
