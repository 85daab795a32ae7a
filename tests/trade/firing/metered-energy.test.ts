import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { energyDrawn } from '../../../src/trade/firing/metered-energy.js';
import { Decimal } from '../../../src/trade/money/money.js';

const at = (time: string) => new Date(time);
const sum = (slots: readonly { kwh: string }[]) => slots.reduce((total, slot) => total.plus(slot.kwh), new Decimal(0));
/** The half-hours in which energy was drawn, by the clock on the wall. */
const clock = (slots: readonly { minuteOfDay: number }[]) =>
  slots.map(({ minuteOfDay: m }) => `${Math.floor(m / 60)}:${String(m % 60).padStart(2, '0')}`);

describe('when a firing drew its energy', () => {
  test('begins with the kiln, not with a reading of the evening before', () => {
    const fired = { startedAt: at('2026-03-08T20:00:00Z'), endedAt: at('2026-03-08T21:15:00Z') };
    const readings = [
      { at: at('2026-03-07T12:00:00Z'), kwh: '100' },
      { at: at('2026-03-09T12:00:00Z'), kwh: '112.5' },
    ];
    const { kwh, slots } = energyDrawn(readings, fired, 'Europe/London');
    expect(kwh).toBe('12.5');
    expect(slots.map((slot) => slot.kwh)).toEqual(['5', '5', '2.5']);
    expect(clock(slots)).toEqual(['20:00', '20:30', '21:00']);
  });

  test('follows the clock on the wall through both of its changes', () => {
    const night = (startedAt: string, endedAt: string) => ({ startedAt: at(startedAt), endedAt: at(endedAt) });
    const drawn = (fired: ReturnType<typeof night>) =>
      energyDrawn(
        [
          { at: fired.startedAt, kwh: '0' },
          { at: fired.endedAt, kwh: '12' },
        ],
        fired,
        'Europe/London',
      );
    // British clocks: 01:00 GMT became 02:00 BST on 29 March 2026, and 02:00 BST becomes 01:00 GMT on 25 October 2026
    const spring = drawn(night('2026-03-29T00:00:00Z', '2026-03-29T02:00:00Z'));
    expect(clock(spring.slots)).toEqual(['0:00', '0:30', '2:00', '2:30']);
    const autumn = drawn(night('2026-10-25T00:00:00Z', '2026-10-25T02:00:00Z'));
    expect(clock(autumn.slots)).toEqual(['1:00', '1:30', '1:00', '1:30']);
  });

  test('loses none of it, however often the meter was read', () => {
    const fired = { startedAt: at('2026-03-28T18:20:00Z'), endedAt: at('2026-03-29T07:10:00Z') };
    const steps = fc.array(
      fc.record({ minutes: fc.integer({ min: 1, max: 400 }), watts: fc.integer({ min: 0, max: 90_000 }) }),
      {
        minLength: 1,
        maxLength: 12,
      },
    );
    fc.assert(
      fc.property(steps, fc.integer({ min: -300, max: 300 }), (list, offset) => {
        let time = fired.startedAt.getTime() + offset * 60_000;
        let meter = new Decimal('104.237');
        const readings = [{ at: new Date(time), kwh: meter.toString() }];
        for (const { minutes, watts } of list) {
          time += minutes * 60_000;
          meter = meter.plus(new Decimal(watts).div(1000));
          readings.push({ at: new Date(time), kwh: meter.toString() });
        }
        const { kwh, slots } = energyDrawn(readings, fired, 'Europe/London');
        expect(sum(slots).toString()).toBe(kwh);
        expect(slots.every((slot) => slot.minuteOfDay >= 0 && slot.minuteOfDay < 1440)).toBe(true);
      }),
    );
  });
});
