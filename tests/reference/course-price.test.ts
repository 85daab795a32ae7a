import { Decimal as Plain } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import { type CostLine, coursePrice, type PriceInputs } from '../../src/trade/pricing/course-price.js';
import { BY_BASIS } from '../support/cost-kinds.js';
import { PRICE_CASES, type PriceCase } from './tables/course-price.js';

// Source: tables/course-price.ts, reckoned in exact fractions by independent code.

const minor = (major: string) => new Plain(major).times(100).toString();
const major = (minorText: string) => new Plain(minorText).div(100);
const toFourDecimals = (minorText: string) => major(minorText).toDecimalPlaces(4, Plain.ROUND_HALF_EVEN).toNumber();

function inputsOf({ inputs }: PriceCase): PriceInputs {
  const source = { kind: 'assumption' as const, detail: 'A worked case.' };
  const line = (basis: CostLine['basis'], amount: string): CostLine => {
    return { ...BY_BASIS[basis], label: basis, basis, quantity: '1', unit: 'sum', rateMinor: minor(amount), source };
  };
  return {
    ...inputs,
    currency: 'GBP',
    enrolment: { alpha: inputs.alpha, beta: inputs.beta, source },
    cardFixedMinor: Number(minor(inputs.cardFixed)),
    lines: [
      line('per-student', inputs.perStudent),
      line('per-course', inputs.fixedCash),
      line('if-cancelled', inputs.sunkIfCancelled),
    ],
    wagePerHourMinor: Number(minor(inputs.ownerWage)),
    secondTutor: { feeMinor: Number(minor(inputs.secondTutor)), above: inputs.secondTutorAbove },
    targetSurplusMinor: Number(minor(inputs.targetSurplus)),
    payFloorPerHourMinor: Number(minor(inputs.payFloorPerHour)),
    priceStepMinor: Number(minor(inputs.priceStep)),
  };
}

describe.each(PRICE_CASES)('course price: $name', (priceCase) => {
  const { expected } = priceCase;
  const price = coursePrice(inputsOf(priceCase));

  it('has the printed enrolment, to the last digit', () => {
    expect(price.enrolmentProbabilities.map(Number)).toEqual(expected.enrolment);
    expect(Number(price.expectedBooked)).toBe(expected.expectedBooked);
    expect(Number(price.probabilityCancelled)).toBe(expected.probabilityCancelled);
  });

  it('has the printed prices', () => {
    expect(major(price.floorMinor).toNumber()).toBe(expected.floor);
    expect(major(price.surplusPriceMinor).toNumber()).toBe(expected.surplusPrice);
    expect(major(price.riskPriceMinor).toNumber()).toBe(expected.riskPrice);
    expect(price.fairPriceMinor).toBe(expected.fairPrice * 100);
    expect(price.binding).toBe(expected.bindingCondition);
  });

  it('has the printed ladder', () => {
    const rungs = price.ladder.map((rung) => [
      rung.students,
      toFourDecimals(rung.resultMinor),
      toFourDecimals(rung.ownerPayPerHourMinor),
      toFourDecimals(rung.costPerStudentMinor ?? ''),
    ]);
    expect(rungs).toEqual(expected.atFairPrice);
    expect(price.ladder.map(({ probability }) => Number(probability))).toEqual(expected.enrolment.slice(1));
    expect(price.breakEvenStudents).toBe(expected.breakEvenStudents);
  });

  it('has the printed expectations', () => {
    expect(major(price.expectedResultMinor).toNumber()).toBe(expected.expectedResult);
    expect(Number(price.probabilityUnderpaid)).toBe(expected.probabilityUnderpaid);
    expect(Number(price.probabilityUnderPayFloor)).toBe(expected.probabilityUnderPayFloor);
    expect(Number(price.probabilityOutOfPocket)).toBe(expected.probabilityOutOfPocket);
  });
});
