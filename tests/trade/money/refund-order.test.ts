import fc from 'fast-check';
import { expect, test } from 'vitest';
import { lastPaidFirst } from '../../../src/trade/money/refund-order.js';

const paid = (from: string | null, amountMinor: number) => ({ from, amountMinor });

test('what was paid last goes back first', () => {
  const history = [paid('A', 50), paid(null, 30), paid('B', 20), paid('A', 10)];
  expect(lastPaidFirst(history, 15)).toEqual([paid('A', 10), paid('B', 5)]);
  expect(lastPaidFirst(history, 110)).toEqual([paid('A', 60), paid('B', 20), paid(null, 30)]);
  expect(lastPaidFirst(history, 0)).toEqual([]);
});

test('what went back before is gone, whatever it went back on', () => {
  expect(lastPaidFirst([paid('A', 50), paid(null, 30), paid(null, -30), paid('new', -20)], 30)).toEqual([
    paid('A', 30),
  ]);
});

test('no more goes back than was paid', () => {
  expect(() => lastPaidFirst([paid(null, 30), paid(null, -10)], 21)).toThrow(/No more can be refunded/);
  expect(() => lastPaidFirst([], -1)).toThrow(RangeError);
});

test('refunds in any steps give back exactly what each thing paid', () => {
  const payments = fc.array(fc.tuple(fc.constantFrom('A', 'B', null), fc.integer({ min: 1, max: 500 })), {
    minLength: 1,
  });
  fc.assert(
    fc.property(payments, fc.array(fc.nat(300)), (list, steps) => {
      const history = list.map(([from, amountMinor]) => paid(from, amountMinor));
      const back = new Map<string | null, number>();
      const total = () => history.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
      for (const step of [...steps, Number.POSITIVE_INFINITY]) {
        const wanted = Math.min(step, total());
        const parts = lastPaidFirst(history, wanted);
        expect(parts.reduce((sum, part) => sum + part.amountMinor, 0)).toBe(wanted);
        for (const { from, amountMinor } of parts) {
          back.set(from, (back.get(from) ?? 0) + amountMinor);
          history.push(paid(from, -amountMinor));
        }
      }
      for (const from of ['A', 'B', null])
        expect(back.get(from) ?? 0).toBe(list.reduce((sum, [f, amount]) => sum + (f === from ? amount : 0), 0));
    }),
  );
});
