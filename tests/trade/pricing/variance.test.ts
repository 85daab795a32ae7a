import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Decimal, roundHalfUp } from '../../../src/trade/money/money.js';
import { profitTableAt } from '../../../src/trade/pricing/course-price.js';
import { privateProfitTableAt } from '../../../src/trade/pricing/private-price.js';
import {
  type ComparedLine,
  comparePlannedWithActual,
  planAt,
  planPrivateAt,
} from '../../../src/trade/pricing/variance.js';
import { anyEvenings, EVENINGS } from '../../support/price-case.js';

const known = (line: ReturnType<typeof planAt>[number], amountMinor: string): ComparedLine => ({
  ...line,
  real: { quantity: line.quantity, amountMinor, detail: 'Known.' },
  howToKnow: null,
});
const line = (key: string, side: ComparedLine['side'], amountMinor: string, real: string | null): ComparedLine => {
  const planned = {
    kind: 'advertising' as const,
    key,
    label: key,
    side,
    unit: 'h',
    quantity: side === 'own-time' ? '2' : '1',
    amountMinor,
  };
  return real === null ? { ...planned, real, howToKnow: 'Ask.' } : known(planned, real);
};

describe('what was planned', () => {
  test('is its lines at the number of students who came', () => {
    const lines = new Map(planAt(EVENINGS, 7, 12_000).map((each) => [each.key, each]));
    expect(lines.get('takings')).toMatchObject({ quantity: '7', amountMinor: '84000', side: 'takings' });
    expect(lines.get('clay-1')).toMatchObject({ quantity: '28', amountMinor: '2800' }); // 7 students, 4 kg at 1.00
    expect(lines.get('room')).toMatchObject({ quantity: '12', amountMinor: '6000' });
    expect(lines.get('card-fees')).toMatchObject({ quantity: '14', amountMinor: '1708' }); // 1.7 % of 840.00, 14 times 0.20
    expect(lines.get('second-tutor')).toMatchObject({ quantity: '1', amountMinor: '9000' }); // above 6
    expect(lines.get('own-time')).toMatchObject({ quantity: '20', amountMinor: '48000', side: 'own-time' });
    expect(lines.has('sunk')).toBe(false);
    expect(planAt(EVENINGS, 6, 12_000).find(({ key }) => key === 'second-tutor')?.amountMinor).toBe('0');
  });

  test('is what is lost, where nobody came', () => {
    expect(planAt(EVENINGS, 0, 12_000)).toMatchObject([{ key: 'sunk', amountMinor: '1200' }]);
  });

  test('comes to what the ladder of the price shows for that number, with VAT, concessions and parts', () => {
    const sold = [
      { label: 'Full', sharePercent: '75' },
      { label: 'Less', sharePercent: '25', pricePercent: '80', discountMinor: 150, payments: 1 },
    ];
    const parts = [{ label: 'Clay', vatPercent: '20', amountMinor: 500 }];
    fc.assert(
      fc.property(
        anyEvenings,
        fc.boolean(),
        fc.nat(11),
        fc.integer({ min: 2000, max: 40_000 }),
        (evenings, rich, i, price) => {
          const inputs = rich ? { ...evenings, sold, parts } : evenings;
          const students = 1 + (i % inputs.places);
          const rung = profitTableAt(inputs, String(price)).ladder[students - 1];
          const { wholePlanMinor } = comparePlannedWithActual(
            planAt(inputs, students, price).map((each) => known(each, '0')),
          );
          expect(wholePlanMinor).toBe(roundHalfUp(rung?.resultMinor ?? ''));
        },
      ),
    );
  });

  test('of a private session comes to what its ladder shows for that many heads, and to nothing where nobody came', () => {
    const anyParty = fc.tuple(anyEvenings, fc.integer({ min: 1, max: 12 }), fc.nat(11));
    fc.assert(
      fc.property(anyParty, fc.nat(60_000), fc.nat(5000), ([evenings, group, i], groupMinor, perHeadAboveMinor) => {
        const inputs = { ...evenings, groupOf: Math.min(group, evenings.places) };
        const heads = 1 + (i % inputs.places);
        const prices = { groupMinor, perHeadAboveMinor };
        const rung = privateProfitTableAt(inputs, prices)[heads - 1];
        const { wholePlanMinor } = comparePlannedWithActual(
          planPrivateAt(inputs, heads, prices).map((each) => known(each, '0')),
        );
        expect(wholePlanMinor).toBe(roundHalfUp(rung?.resultMinor ?? ''));
      }),
    );
    const none = planPrivateAt({ ...EVENINGS, groupOf: 4 }, 0, { groupMinor: 20_000, perHeadAboveMinor: 100 });
    expect(none.map(({ key }) => key)).toEqual(['sunk']);
  });

  test('is refused for a number of students that is none', () => {
    expect(() => planAt(EVENINGS, -1, 12_000)).toThrow('number of students');
    expect(() => planAt(EVENINGS, 4, 0.5)).toThrow('price of a place');
  });
});

describe('planned against real', () => {
  const lines = [
    line('takings', 'takings', '10000', '9500'),
    line('clay', 'cost', '1000', '800'),
    line('glaze', 'cost', '700', null),
    line('room', 'cost', '600', '600'),
    line('teaching', 'own-time', '4800', '6000'),
    line('kiln', 'own-time', '2400', null),
  ];

  test('counts a line of which nothing is known neither as nothing nor as planned', () => {
    const found = comparePlannedWithActual(lines);
    expect(found.unknown).toEqual(['glaze', 'kiln']);
    expect(found.wholePlanMinor).toBe(10_000 - 1000 - 700 - 600 - 4800 - 2400);
    expect(found.planned).toEqual({ resultMinor: 3600, hours: '2', payPerHourMinor: 4200 });
    expect(found.real).toEqual({ resultMinor: 2100, hours: '2', payPerHourMinor: 4050 });
    expect(found.lines[2]).toMatchObject({ real: null, differenceMinor: null, howToKnow: 'Ask.' });
  });

  test('explains the difference by its lines, the greatest effect first', () => {
    const found = comparePlannedWithActual(lines);
    expect(found.differenceMinor).toBe(-1500);
    expect(found.because.map(({ key, differenceMinor }) => [key, differenceMinor])).toEqual([
      ['teaching', -1200],
      ['takings', -500],
      ['clay', 200],
    ]);
  });

  test('knows no pay per hour without an hour', () => {
    const found = comparePlannedWithActual([line('takings', 'takings', '5', '5')]);
    expect(found.real).toEqual({ resultMinor: 5, hours: '0', payPerHourMinor: null });
  });

  test('adds up exactly, whatever fractions of a penny its lines hold', () => {
    const exact = fc.integer({ min: -3_000_000, max: 30_000_000 }).map((n) => new Decimal(n).div(7).toFixed());
    const anyLine = fc.record({
      side: fc.constantFrom('takings' as const, 'cost' as const, 'own-time' as const),
      amountMinor: exact,
      real: fc.option(exact),
    });
    fc.assert(
      fc.property(fc.array(anyLine, { maxLength: 25 }), (drawn) => {
        const found = comparePlannedWithActual(
          drawn.map(({ side, amountMinor, real }, i) => line(`line-${i}`, side, amountMinor, real)),
        );
        const total = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
        const signed = (of: 'planned' | 'real', all: boolean) =>
          total(
            found.lines
              .filter(({ real }) => all || real)
              .map(({ side, ...l }) => (side === 'takings' ? 1 : -1) * (l[of]?.amountMinor ?? 0)),
          );
        expect(found.planned.resultMinor).toBe(signed('planned', false));
        expect(found.real.resultMinor).toBe(signed('real', false));
        expect(found.wholePlanMinor).toBe(signed('planned', true));
        expect(found.real.resultMinor - found.planned.resultMinor).toBe(found.differenceMinor);
        expect(total(found.because.map(({ differenceMinor }) => differenceMinor))).toBe(found.differenceMinor);
        for (const [i, { planned, real }] of found.lines.entries()) {
          expect(Math.abs(planned.amountMinor - Number(drawn[i]?.amountMinor))).toBeLessThan(1);
          if (real) expect(Math.abs(real.amountMinor - Number(drawn[i]?.real))).toBeLessThan(1);
        }
      }),
    );
  });
});
