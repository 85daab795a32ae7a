import { describe, expect, test } from 'vitest';
import { airportShares } from '../../src/trade/firing/cost-split.js';
import { Decimal, splitExactly } from '../../src/trade/money/money.js';

describe('largest remainder (Hamilton)', () => {
  test('60 seats of 1790', () => {
    // https://electowiki.org/w/index.php?title=Hamilton_method. Mark: read, rechecked.
    const states = [
      [630_560, 11],
      [475_327, 8],
      [432_879, 7],
      [353_523, 6],
      [331_589, 6],
      [278_514, 5],
      [236_841, 4],
      [206_236, 3],
      [179_570, 3],
      [141_822, 2],
      [85_533, 1],
      [70_835, 1],
      [68_705, 1],
      [68_446, 1],
      [55_540, 1],
    ] as const;
    expect(states.reduce((sum, [people]) => sum + people, 0)).toBe(3_615_920);
    const seats = splitExactly(
      60,
      states.map(([people]) => people),
    );
    expect(seats).toEqual(states.map(([, won]) => won));
  });

  test('42 seats over five districts', () => {
    // solvely.ai 459845938. Mark: read, rechecked.
    expect(splitExactly(42, [247_000, 185_000, 459_000, 400_000, 413_000])).toEqual([6, 5, 11, 10, 10]);
  });

  test('1000 in three equal shares, the odd one to the first', () => {
    // Derived, with our tie rule: equal remainders go to the earlier part.
    expect(splitExactly(1000, [1, 1, 1])).toEqual([334, 333, 333]);
  });
});

describe('airport shares (Littlechild and Owen, Management Science 20(3), 1973, 370-372)', () => {
  // The rule as read at rdrr.io, package AirportProblems, SECrule.
  const sixths = (n: number) => n / 6;

  test.each([
    // Wikipedia, "Airport problem". Mark: read, in two texts.
    [
      [8, 11, 13, 18],
      [2, 3, 4, 9],
    ],
    // math.techqa.club 4152535. Mark: read, rechecked.
    [[40, 50, 60, 70, 80, 90], [40, 52, 67, 87, 117, 177].map(sixths)],
    // thoughtfulexaminations.com p=19583. Mark: read.
    [
      [1500, 2200, 3000],
      [500, 850, 1650],
    ],
    [
      [1500, 2200, 3500],
      [500, 850, 2150],
    ],
    // A lift of 14 flats; costs read (the address was not kept), shares derived.
    [
      [...Array(4).fill(25_000), ...Array(4).fill(30_000), ...Array(4).fill(35_000), 45_000, 45_000] as number[],
      [
        ...Array(4).fill(1785.714),
        ...Array(4).fill(2285.714),
        ...Array(4).fill(3119.048),
        8119.048,
        8119.048,
      ] as number[],
    ],
  ])('costs %j are shared as %j', (costs, shares) => {
    const paid = airportShares(costs);
    for (const [i, share] of shares.entries()) expect(Number(paid[i])).toBeCloseTo(share, 3);
    expect(
      Decimal.sum(...paid)
        .toDecimalPlaces(20)
        .toNumber(),
    ).toBe(Math.max(...costs));
  });

  // S. C. Littlechild and G. F. Thompson, "Aircraft Landing Fees", Bell Journal of Economics 8(1), 1977, 186-204:
  // Birmingham airport 1968-69. Movements and costs read in the data script of the R package AirportProblems; shares per
  // movement derived (they match the paper's table as remembered). The movements sum to 13,572.
  const BIRMINGHAM = [
    ['Fokker Friendship 27', 42, 65_899, 4.86],
    ['Viscount 800', 9555, 76_725, 5.66],
    ['Trident', 288, 95_200, 10.3],
    ['Britannia 100', 303, 97_200, 10.85],
    ['Caravelle VI R', 151, 97_436, 10.92],
    ['BAC 111', 1315, 98_142, 11.13],
    ['Vanguard 953', 505, 102_496, 13.4],
    ['Comet 4B', 1128, 104_849, 15.07],
    ['Britannia 300', 151, 113_322, 44.8],
    ['Convair', 112, 115_440, 60.61],
    ['Boeing 707', 22, 117_676, 162.24],
  ] as const;
  const landings = BIRMINGHAM.flatMap(([, movements, cost]) => Array<number>(movements).fill(cost));
  const fees = airportShares(landings);

  test.each(BIRMINGHAM)('Birmingham 1968-69: %s', (_type, _movements, cost, perMovement) => {
    expect(Number(fees[landings.indexOf(cost)])).toBeCloseTo(perMovement, 2);
  });

  test('Birmingham 1968-69: 13,572 movements pay 117,676 exactly', () => {
    expect(landings).toHaveLength(13_572);
    expect(
      Decimal.sum(...fees)
        .toDecimalPlaces(20)
        .toString(),
    ).toBe('117676');
    expect(Number(fees.at(-1))).toBeCloseTo(162.2415, 4);
  });
});
