import { Decimal, minorDigits } from '../money/money.js';
import { isMaterial, isSharedLoad, type LineTest } from './cost-lines.js';
import { MOST_PLACES } from './enrolment.js';
import { dearer, fullerLoads, surplusByHour, withPlaces } from './input-changes.js';
import type { PriceInputs } from './price-inputs.js';

export const LEVERS = [
  ...(['more-places', 'fewer-places', 'higher-minimum', 'lower-minimum', 'alone'] as const),
  ...(['hours', 'surplus', 'wage', 'pay-floor', 'risk'] as const),
  ...(['materials', 'loads', 'advertising'] as const),
];
export type LeverKey = (typeof LEVERS)[number];

/** One thing that the owner can decide: where it stands, how far it goes, and in which steps. */
export interface Lever {
  key: LeverKey;
  from: Decimal;
  limit: Decimal;
  step: Decimal;
  /** whether each further step makes the price no dearer; otherwise every one must be tried */
  steady: boolean;
  set(value: Decimal): PriceInputs;
}

const FULLEST_LOAD_PERCENT = 150; // of the ware in it today

/**
 * What an owner can move. Places and students are counted; hours are of the owner's beside those for each student;
 * sums are in minor units and move by a whole of the currency, what is paid or left for an hour by a tenth of it; the risk is a
 * probability; materials, loads and advertising are percentages of today's. What can't move is left out.
 */
export function leversOf(inputs: PriceInputs): Lever[] {
  const all = [...ofCourse(inputs), ...ofWork(inputs), ...ofCosts(inputs)];
  return all
    .map(({ from, limit, step, ...rest }) => ({
      ...{ from: new Decimal(from), limit: new Decimal(limit), step: new Decimal(step) },
      ...rest,
    }))
    .filter(({ from, limit }) => !from.eq(limit));
}

type Plain = Pick<Lever, 'key' | 'steady' | 'set'> & { [of in 'from' | 'limit' | 'step']: string | number };

function ofCourse(inputs: PriceInputs): Plain[] {
  const { places, minimum, secondTutor } = inputs;
  const most = Math.min(inputs.mostPlaces ?? MOST_PLACES, places * 2); // twice the size is another course
  const offered = (key: LeverKey, limit: number): Plain => ({
    ...{ key, from: places, limit, step: 1, steady: false },
    set: (value) => withPlaces(inputs, value.toNumber()),
  });
  const held = (key: LeverKey, limit: number): Plain => ({
    ...{ key, from: minimum, limit, step: 1, steady: false },
    set: (value) => ({ ...inputs, minimum: value.toNumber() }),
  });
  return [
    offered('more-places', Math.max(most, places)),
    offered('fewer-places', Math.max(minimum, 1)),
    ...(minimum > 0 ? [held('higher-minimum', places), held('lower-minimum', 1)] : []),
    ...(secondTutor
      ? [
          {
            ...{ key: 'alone' as const, from: secondTutor.above, limit: Math.max(places, secondTutor.above), step: 1 },
            steady: true,
            set: (value: Decimal) => ({ ...inputs, secondTutor: { ...secondTutor, above: value.toNumber() } }),
          },
        ]
      : []),
  ];
}

const QUARTER_HOUR = '0.25';

function ofWork(inputs: PriceInputs): Plain[] {
  const whole = 10 ** minorDigits(inputs.currency);
  const tenth = Math.max(1, whole / 10);
  return [
    {
      ...{ key: 'hours', from: inputs.ownerHours, step: QUARTER_HOUR, steady: true },
      limit: Decimal.min(inputs.ownerHours, QUARTER_HOUR).toFixed(),
      set: (value) => ({ ...inputs, ownerHours: value.toFixed() }),
    },
    surplus(inputs, whole, tenth),
    {
      ...{ key: 'wage', from: inputs.wagePerHourMinor, limit: 0, step: tenth, steady: true },
      set: (value) => ({ ...inputs, wagePerHourMinor: value.toNumber() }),
    },
    {
      ...{ key: 'pay-floor', from: inputs.payFloorPerHourMinor, limit: 0, step: tenth, steady: true },
      set: (value) => ({ ...inputs, payFloorPerHourMinor: value.toNumber() }),
    },
    {
      ...{ key: 'risk', from: inputs.poorAtMost, limit: 1, step: '0.01', steady: true },
      set: (value) => ({ ...inputs, poorAtMost: value.toFixed() }),
    },
  ];
}

/** By the hour of teaching, as it is asked for; as one sum in a price that was saved before that. */
function surplus(inputs: PriceInputs, whole: number, tenth: number): Plain {
  const { surplusPerHour: by } = inputs;
  if (by)
    return {
      ...{ key: 'surplus', from: by.rateMinor, limit: 0, step: tenth, steady: true },
      set: (value) => ({ ...inputs, ...surplusByHour(value.toNumber(), by.teachingHours) }),
    };
  return {
    ...{ key: 'surplus', from: inputs.targetSurplusMinor, limit: 0, step: whole, steady: true },
    set: (value) => ({ ...inputs, targetSurplusMinor: value.toNumber() }),
  };
}

function ofCosts(inputs: PriceInputs): Plain[] {
  const cheaper = (key: LeverKey, isCheaper: LineTest): Plain => ({
    ...{ key, from: 100, limit: inputs.lines.some(isCheaper) ? 0 : 100, step: 1, steady: true },
    set: (value) => dearer(inputs, isCheaper, value.minus(100)),
  });
  const fired = inputs.lines.some(isSharedLoad);
  return [
    cheaper('materials', isMaterial),
    cheaper('advertising', ({ kind }) => kind === 'advertising'),
    {
      ...{ key: 'loads', from: 100, limit: fired ? FULLEST_LOAD_PERCENT : 100, step: 1, steady: true },
      set: (value) => fullerLoads(inputs, value.minus(100)),
    },
  ];
}
