import { Decimal, roundHalfUp } from '../money/money.js';
import { isFiring, isSharedLoad, type LineTest, usedAs } from './cost-lines.js';
import { MOST_PLACES } from './enrolment.js';
import { fairPrice } from './fair-price.js';
import {
  dearer,
  dearerElectricity,
  expectedFill,
  filled,
  fullerLoads,
  moreBookings,
  moreRemakes,
  moreSurplus,
  withPlaces,
} from './input-changes.js';
import type { PriceInputs } from './price-inputs.js';
import { asText, readTerms, rememberedEnrolment, settled } from './price-terms.js';

/** What one change by itself would make of the fair price. */
export interface Sensitivity {
  key: string;
  label: string;
  /** "+10 %", or "9 instead of 8" */
  change: string;
  /** at the studio's step, in whole minor units */
  fairPriceMinor: number;
  /** before it is rounded to the step; and how much more that is than today's. Exact decimal strings. */
  exactMinor: string;
  deltaMinor: string;
}

type Change = { key: string; label: string; change: string; inputs: PriceInputs };

/**
 * How much the fair price hangs on each thing, the one with the greatest effect first. What the course has no line for
 * is left out.
 *
 * @throws RangeError with a sentence that says what to mend
 */
export function sensitivities(inputs: PriceInputs): Sensitivity[] {
  const enrolment = rememberedEnrolment();
  const exactly = (changed: PriceInputs) => {
    const { surplusMinor, riskMinor, fairMinor } = fairPrice(readTerms(changed, enrolment));
    return { exactMinor: Decimal.max(surplusMinor, riskMinor), fairMinor };
  };
  const exactNow = exactly(inputs).exactMinor;
  return [...changesInCourse(inputs), ...changesInCosts(inputs)]
    .map(({ inputs: changed, ...told }) => {
      const { exactMinor, fairMinor } = exactly(changed);
      return { told, fairMinor, exactMinor, delta: settled(exactMinor.minus(exactNow)) };
    })
    .sort((a, b) => b.delta.abs().comparedTo(a.delta.abs()))
    .map(({ told, fairMinor, exactMinor, delta }) => ({
      ...told,
      fairPriceMinor: fairMinor.toNumber(),
      exactMinor: asText(exactMinor),
      deltaMinor: asText(delta),
    }));
}

const TENTH = 10; // percent
const TENTH_MORE = `+${TENTH}%`;
const FULLEST_PERCENT = 99;

function changesInCourse(inputs: PriceInputs): Change[] {
  const { places, minimum } = inputs;
  const changes: Change[] = [];
  if (places < (inputs.mostPlaces ?? MOST_PLACES))
    changes.push({
      ...{ key: 'places', label: 'One place more', change: `${places + 1} instead of ${places}` },
      inputs: withPlaces(inputs, places + 1),
    });
  if (minimum > 1)
    changes.push({
      ...{ key: 'minimum', label: 'Run with one fewer', change: `${minimum - 1} instead of ${minimum}` },
      inputs: { ...inputs, minimum: minimum - 1 },
    });
  const fill = expectedFill(inputs).times(100);
  const whole = fill
    .times(100 + TENTH)
    .div(100)
    .lte(FULLEST_PERCENT);
  if (fill.lt(FULLEST_PERCENT))
    changes.push({
      ...{ key: 'bookings', label: 'Bookings', change: whole ? TENTH_MORE : `${FULLEST_PERCENT}% of places` },
      inputs: whole ? moreBookings(inputs, TENTH) : filled(inputs, FULLEST_PERCENT),
    });
  return changes;
}

const GROUPS: readonly [key: string, label: string, isOf: LineTest][] = [
  ['clay', 'Clay', usedAs('clay')],
  ['glaze', 'Glaze', usedAs('glaze')],
  ['other', 'Other materials', usedAs('other')],
  ['room', 'Room', ({ kind }) => kind === 'room'],
];

function changesInCosts(inputs: PriceInputs): Change[] {
  const has = (isOf: LineTest) => inputs.lines.some(isOf);
  const tenth = (key: string, label: string, changed: PriceInputs) => ({
    ...{ key, label, change: TENTH_MORE },
    inputs: changed,
  });
  const more = (minor: number) => roundHalfUp(new Decimal(minor).times(100 + TENTH).div(100));
  const changes = GROUPS.filter(([, , isOf]) => has(isOf)).map(([key, label, isOf]) =>
    tenth(key, label, dearer(inputs, isOf, TENTH)),
  );
  changes.push(tenth('wage', 'Your hour', { ...inputs, wagePerHourMinor: more(inputs.wagePerHourMinor) }));
  if (inputs.targetSurplusMinor > 0) changes.push(tenth('surplus', 'Surplus you want', moreSurplus(inputs, TENTH)));
  if (has(isFiring)) changes.push(tenth('electricity', 'Electricity', dearerElectricity(inputs, TENTH)));
  if (has(isSharedLoad)) changes.push(tenth('loads', 'Ware in each kiln load', fullerLoads(inputs, TENTH)));
  if (Number(inputs.remakesPercent ?? 0) > 0 && has(usedAs('clay')))
    changes.push(tenth('remakes', 'Made again', moreRemakes(inputs, TENTH)));
  const tutor = inputs.secondTutor;
  if (tutor && tutor.above < inputs.places)
    changes.push(
      tenth('tutor', 'Second tutor', { ...inputs, secondTutor: { ...tutor, feeMinor: more(tutor.feeMinor) } }),
    );
  return changes;
}
