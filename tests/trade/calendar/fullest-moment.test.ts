import { describe, expect, test } from 'vitest';
import { fullestMoment } from '../../../src/trade/calendar/fullest-moment.js';

const at = (hour: number) => new Date(Date.UTC(2026, 2, 2, hour));
const session = (name: string, from: number, to: number, benches: number) => ({
  ...{ name, benches },
  ...{ startsAt: at(from), endsAt: at(to) },
});

describe('the moment at which a room is fullest', () => {
  test('is the start at which the most benches are taken, not that of the largest session', () => {
    const [large, two, three] = [session('large', 10, 11, 6), session('two', 11, 14, 4), session('three', 12, 13, 3)];
    expect(fullestMoment(at(9), [large, two, three])).toEqual({ benches: 7, first: two, more: 1 });
  });

  test('counts what is under way already', () => {
    const early = session('early', 8, 12, 5);
    expect(fullestMoment(at(9), [early])).toEqual({ benches: 5, first: early, more: 0 });
  });

  test('does not count one that ends when the next begins', () => {
    const [first, second] = [session('first', 9, 10, 4), session('second', 10, 11, 5)];
    expect(fullestMoment(at(9), [first, second])).toEqual({ benches: 5, first: second, more: 0 });
  });

  test('is none where nothing is taken', () => {
    expect(fullestMoment(at(9), [])).toBeUndefined();
    expect(fullestMoment(at(9), [session('over', 7, 9, 3)])).toBeUndefined();
  });
});
