import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import {
  type CostLine,
  coursePrice,
  type PriceInputs,
  profitTableAt,
} from '../../../src/trade/pricing/course-price.js';
import { anyInputs, line, plain, source } from '../../support/price-inputs.js';

/** The same course with one thing dearer. */
const dearer: ((inputs: PriceInputs) => PriceInputs)[] = [
  ...[0, 1, 2].flatMap((i) => [
    (inputs: PriceInputs) => withLine(inputs, i, (l) => ({ ...l, quantity: plus(l.quantity, '1.7') })),
    (inputs: PriceInputs) => withLine(inputs, i, (l) => ({ ...l, rateMinor: plus(l.rateMinor, '13.37') })),
  ]),
  (inputs) => ({ ...inputs, vatPercent: plus(inputs.vatPercent, '2') }),
  (inputs) => ({ ...inputs, cardPercent: plus(inputs.cardPercent, '0.3') }),
  (inputs) => ({ ...inputs, cardFixedMinor: inputs.cardFixedMinor + 5 }),
  (inputs) => ({ ...inputs, payments: inputs.payments + 1 }),
  (inputs) => ({ ...inputs, ownerHours: plus(inputs.ownerHours, '0.75') }),
  (inputs) => ({ ...inputs, ownerHoursPerStudent: plus(inputs.ownerHoursPerStudent, '0.1') }),
  (inputs) => ({ ...inputs, wagePerHourMinor: inputs.wagePerHourMinor + 50 }),
  (inputs) => ({ ...inputs, secondTutor: { feeMinor: (inputs.secondTutor?.feeMinor ?? 0) + 500, above: 0 } }),
];

function withLine(inputs: PriceInputs, index: number, change: (line: CostLine) => CostLine): PriceInputs {
  return { ...inputs, lines: inputs.lines.map((l, i) => (i === index ? change(l) : l)) };
}

function plus(text: string, more: string): string {
  return new Decimal(text).plus(more).toString();
}

describe('the floor', () => {
  it('is where the expected result is nothing, and the surplus price where it is the surplus aimed at', () => {
    fc.assert(
      fc.property(anyInputs, (inputs) => {
        const { floorMinor, surplusPriceMinor } = coursePrice(inputs);
        expect(profitTableAt(inputs, floorMinor).expectedResultMinor).toBe('0');
        expect(profitTableAt(inputs, surplusPriceMinor).expectedResultMinor).toBe(String(inputs.targetSurplusMinor));
      }),
    );
  });

  it('has another below it, at which the costs are covered and the owner’s time is not paid', () => {
    fc.assert(
      fc.property(anyInputs, (inputs) => {
        const { costFloorMinor, floorMinor } = coursePrice(inputs);
        expect(new Decimal(costFloorMinor).lte(floorMinor)).toBe(true);
        const at = profitTableAt(inputs, costFloorMinor);
        expect(at.expectedBeforeWageMinor).toBe('0');
        const unpaid = profitTableAt({ ...inputs, wagePerHourMinor: 0 }, costFloorMinor);
        expect(unpaid.expectedResultMinor).toBe('0');
        expect(at.costsCoveredStudents).toBe(unpaid.breakEvenStudents);
      }),
    );
  });

  it('is never lower where something is dearer, nor is the fair price', () => {
    fc.assert(
      fc.property(anyInputs, fc.constantFrom(...dearer), (inputs, change) => {
        const [before, after] = [coursePrice(inputs), coursePrice(change(inputs))];
        expect(new Decimal(after.floorMinor).gte(before.floorMinor)).toBe(true);
        expect(after.fairPriceMinor).toBeGreaterThanOrEqual(before.fairPriceMinor);
      }),
      { numRuns: 300 },
    );
  });

  it('counts what a cancelled course loses, by its probability', () => {
    // two places, both needed: two courses in three are cancelled and lose 300 each; the third has 2 students to pay 600
    const inputs = { ...plain, places: 2, minimum: 2, lines: [line('if-cancelled', '1', '300')] };
    expect(coursePrice(inputs).floorMinor).toBe('300');
  });

  it('is per-student cost, card and VAT where there is nothing else', () => {
    // 1000 + 2 x 20 a student must be left of P / 1.25 - 0.15 P
    const inputs = { ...plain, vatPercent: '25', cardPercent: '15', cardFixedMinor: 20, payments: 2 };
    expect(coursePrice(inputs)).toMatchObject({ floorMinor: '1600', fairPriceMinor: 1600, expectedResultMinor: '0' });
  });
});

describe('the risk price', () => {
  const poorAt = (inputs: PriceInputs, price: Decimal) =>
    new Decimal(profitTableAt(inputs, price.toString()).probabilityUnderPayFloor);

  it('is the least that keeps a poorly paid course as improbable as wished', () => {
    fc.assert(
      fc.property(anyInputs, (inputs) => {
        const price = new Decimal(coursePrice(inputs).riskPriceMinor);
        expect(poorAt(inputs, price).lte(inputs.poorAtMost)).toBe(true);
        if (price.gt(0)) {
          // what lies a whole minor unit lower, or at nothing, is not enough; nor is a hair lower
          expect(poorAt(inputs, Decimal.max(0, price.minus(1))).gt(inputs.poorAtMost)).toBe(true);
          expect(poorAt(inputs, Decimal.max(0, price.minus('1e-9'))).gt(inputs.poorAtMost)).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  // 1200 to be earned in the one hour, enrolment uniform: each of 0..4 students has probability 0.2
  const uniform = { ...plain, lines: [], payFloorPerHourMinor: 1200 };

  it.each([
    ['0', '1200'],
    ['0.19', '1200'],
    ['0.2', '600'],
    ['0.4', '400'],
    ['0.79', '300'],
    ['0.8', '0'],
  ])('falls in steps, from one number of students to the next: at most %s gives %s', (poorAtMost, price) => {
    expect(coursePrice({ ...uniform, poorAtMost }).riskPriceMinor).toBe(price);
  });

  it('is not a step too high for a crumb in the probabilities', () => {
    // somebody comes with probability 0.375, so that any price will do; but at 40 digits that ends in ...01
    const inputs = { ...uniform, places: 3, enrolment: { alpha: '1', beta: '5', source }, poorAtMost: '0.375' };
    expect(coursePrice(inputs).riskPriceMinor).toBe('0');
  });

  it('does not mind what is not held', () => {
    expect(coursePrice({ ...uniform, poorAtMost: '0', minimum: 3 }).riskPriceMinor).toBe('400');
  });

  it('sees that with a second tutor the larger course can be the worse paid', () => {
    const inputs = { ...uniform, secondTutor: { feeMinor: 6000, above: 2 }, poorAtMost: '0.2' };
    // enough for 1: 1200, 2: 600, 3: 2400, 4: 1800; letting go of 3 leaves 4 to set the price
    expect(coursePrice(inputs).riskPriceMinor).toBe('1800');
  });
});

describe('the fair price', () => {
  it('is the larger of the two, at the next step', () => {
    fc.assert(
      fc.property(anyInputs, (inputs) => {
        const price = coursePrice(inputs);
        const [surplus, risk] = [new Decimal(price.surplusPriceMinor), new Decimal(price.riskPriceMinor)];
        const needed = Decimal.max(surplus, risk).minus('1e-20');
        expect(price.fairPriceMinor % inputs.priceStepMinor).toBe(0);
        expect(needed.lte(price.fairPriceMinor)).toBe(true);
        expect(needed.gt(price.fairPriceMinor - inputs.priceStepMinor - 1e-9)).toBe(true);
        expect(price.binding).toBe(surplus.gte(risk) ? 'surplus' : 'risk');
      }),
    );
  });

  it('is not a step too high for a crumb of division', () => {
    // 520 with 17.5 % VAT is 611, but at 40 digits 520 / (100 / 117.5) ends in ...01
    const inputs = { ...plain, vatPercent: '17.5', lines: [line('per-student', '1', '520')] };
    expect(coursePrice(inputs).fairPriceMinor).toBe(611);
  });

  it('is JSON that reads back as it was, without exponents', () => {
    fc.assert(
      fc.property(anyInputs, (inputs) => {
        const text = JSON.stringify(coursePrice(inputs));
        expect(JSON.stringify(JSON.parse(text))).toBe(text);
        expect(text).not.toMatch(/"-?[\d.]+e|NaN|Infinity|"-0"/);
      }),
    );
  });

  it('shows every line with its exact amount and its source', () => {
    const lines = [line('per-student', '1.5', '117.5', 'clay'), line('per-course', '3', '33.333', 'room')];
    const price = coursePrice({ ...plain, lines });
    expect(price.lines).toEqual([
      { ...lines[0], amountMinor: '176.25' },
      { ...lines[1], amountMinor: '99.999' },
    ]);
    expect([price.perStudentMinor, price.fixedMinor, price.sunkIfCancelledMinor]).toEqual(['176.25', '99.999', '0']);
  });
});

describe('the ladder', () => {
  it('agrees with the formula, reckoned in floats', () => {
    fc.assert(
      fc.property(anyInputs, fc.integer({ min: 0, max: 50_000 }), (inputs, gross) => {
        const [each = 0, fixed = 0] = inputs.lines.map((l) => Number(l.quantity) * Number(l.rateMinor));
        const kept = gross / (1 + Number(inputs.vatPercent) / 100) - (Number(inputs.cardPercent) / 100) * gross;
        for (const rung of profitTableAt(inputs, String(gross)).ladder) {
          const n = rung.students;
          const hours = Number(inputs.ownerHours) + n * Number(inputs.ownerHoursPerStudent);
          const tutor = inputs.secondTutor && n > inputs.secondTutor.above ? inputs.secondTutor.feeMinor : 0;
          const cash = n * (kept - inputs.payments * inputs.cardFixedMinor - each) - fixed - tutor;
          expect(Number(rung.resultMinor)).toBeCloseTo(cash - hours * inputs.wagePerHourMinor, 4);
          expect(Number(rung.ownerPayPerHourMinor)).toBeCloseTo(cash / hours, 4);
          const cost = gross / (1 + Number(inputs.vatPercent) / 100) - Number(rung.resultMinor) / n;
          expect(Number(rung.costPerStudentMinor)).toBeCloseTo(cost, 4);
          expect(rung.held).toBe(n >= inputs.minimum);
        }
      }),
    );
  });

  it('adds up to the expectations and probabilities shown with it', () => {
    fc.assert(
      fc.property(anyInputs, fc.integer({ min: 0, max: 50_000 }), (inputs, gross) => {
        const at = profitTableAt(inputs, String(gross));
        const { sunkIfCancelledMinor, probabilityCancelled } = coursePrice(inputs);
        const held = at.ladder.filter((rung) => rung.held);
        const chance = (which: (rung: (typeof held)[number]) => boolean) =>
          held.filter(which).reduce((sum, rung) => sum + Number(rung.probability), 0);
        const mean = held.reduce((sum, rung) => sum + Number(rung.probability) * Number(rung.resultMinor), 0);

        expect(chance(() => true)).toBeCloseTo(1 - Number(probabilityCancelled), 9);
        expect(Number(at.expectedResultMinor)).toBeCloseTo(
          mean - Number(probabilityCancelled) * Number(sunkIfCancelledMinor),
          4,
        );
        expect(Number(at.probabilityUnderpaid)).toBeCloseTo(
          chance((rung) => Number(rung.resultMinor) < 0),
          9,
        );
        const poor = chance((rung) => Number(rung.ownerPayPerHourMinor) < inputs.payFloorPerHourMinor - 1e-9);
        expect(Number(at.probabilityUnderPayFloor)).toBeCloseTo(poor, 9);
        const outOfPocket = chance((rung) => Number(rung.ownerPayPerHourMinor) < -1e-9);
        expect(Number(at.probabilityOutOfPocket)).toBeCloseTo(outOfPocket, 9);
      }),
    );
  });

  it('names for each number the price, VAT and card fees in it, at which it pays for everything', () => {
    fc.assert(
      fc.property(anyInputs, (inputs) => {
        for (const { students, breakEvenPriceMinor } of profitTableAt(inputs, '5000').ladder) {
          const rung = profitTableAt(inputs, breakEvenPriceMinor ?? '').ladder.find((at) => at.students === students);
          expect(new Decimal(rung?.resultMinor ?? 'NaN').abs().lt('1e-15')).toBe(true);
        }
      }),
      { numRuns: 30 },
    );
    // 15.00 in all, and a wage of 5.00: two students pay 10.00 each, with VAT of 20 % 12.00
    const inputs = { ...plain, lines: [line('per-course', '1', '1500')], wagePerHourMinor: 500, vatPercent: '20' };
    expect(profitTableAt(inputs, '1200').ladder[1]?.breakEvenPriceMinor).toBe('1200');
    expect(profitTableAt(inputs, '1200')).toMatchObject({ breakEvenStudents: 2, costsCoveredStudents: 2 });
    expect(profitTableAt(inputs, '900')).toMatchObject({ breakEvenStudents: 3, costsCoveredStudents: 2 });
  });

  it('names the break-even number, and each number at which a second tutor takes it back', () => {
    const inputs = { ...plain, lines: [line('per-course', '1', '1500')], secondTutor: { feeMinor: 900, above: 2 } };
    expect(profitTableAt(inputs, '750')).toMatchObject({ breakEvenStudents: 2, negativeAgainAt: [3] });
    expect(profitTableAt(inputs, '800')).toMatchObject({ breakEvenStudents: 2, negativeAgainAt: [] });
    expect(profitTableAt(inputs, '599.99')).toMatchObject({ breakEvenStudents: null, negativeAgainAt: [] });
    expect(profitTableAt(inputs, '600')).toMatchObject({ breakEvenStudents: 4, negativeAgainAt: [] });
  });

  it('counts a held course that is underpaid, poorly paid, or paid for by the owner, each below its own line', () => {
    // one to four students at 100 bring 100, 200, 300, 400 for one hour's work; fixed cost 150
    const inputs = {
      ...plain,
      lines: [line('per-course', '1', '150')],
      wagePerHourMinor: 250,
      payFloorPerHourMinor: 150,
    };
    const at = (minimum: number) => {
      const shown = profitTableAt({ ...inputs, minimum }, '100');
      return [shown.probabilityUnderpaid, shown.probabilityUnderPayFloor, shown.probabilityOutOfPocket].map(Number);
    };
    expect(at(1)).toEqual([0.6, 0.4, 0.2]);
    expect(at(2)).toEqual([0.4, 0.2, 0]);
    expect(at(4)).toEqual([0, 0, 0]);
  });
});
