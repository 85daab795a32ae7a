import { Decimal } from '../../../../trade/money/money.js';
import type { CeilingChange, PriceInputs } from '../../../../trade/pricing/course-price.js';
import { surplusByHour } from '../../../../trade/pricing/input-changes.js';
import type { Words } from './labels';

/** What the owner would do, as a sentence with today's figure in it. */
export function changeInWords({ key, from, to }: CeilingChange, inputs: PriceInputs, words: Words): string {
  const { money, percent } = words;
  const by = new Decimal(to).minus(from).abs().toFixed();
  switch (key) {
    case 'more-places':
    case 'fewer-places':
      return `Offer ${counted(to, 'place')} instead of ${from}.`;
    case 'higher-minimum':
    case 'lower-minimum':
      return `Run it from ${counted(to, 'student')} instead of ${from}.`;
    case 'alone':
      return `Teach up to ${counted(to, 'student')} without a second tutor instead of ${from}.`;
    case 'hours':
      return `Spend ${duration(to)} on it instead of ${duration(from)}${beside(inputs)}.`;
    case 'surplus':
      return inputs.surplusPerHour
        ? `Aim for a surplus of ${money(to)} an hour of teaching instead of ${money(from)}: ${money(surplusAt(to, inputs))} instead of ${money(inputs.targetSurplusMinor)} altogether.`
        : `Aim for a surplus of ${money(to)} instead of ${money(from)}.`;
    case 'wage':
      return `Put your hour at ${money(to)} instead of ${money(from)}.`;
    case 'pay-floor':
      return `Accept ${money(to)} as the least pay for an hour instead of ${money(from)}.`;
    case 'risk':
      return `Accept less than ${money(inputs.payFloorPerHourMinor)} an hour ${percent(to)} of the time instead of ${percent(from)}.`;
    case 'materials':
      return `Get clay, glaze and the other materials for ${by}% less.`;
    case 'loads':
      return `Put ${by}% more ware into each kiln load.`;
    case 'advertising':
      return to === '0' ? 'Do without advertising.' : `Spend ${by}% less on advertising.`;
  }
}

const surplusAt = (rateMinor: string, { surplusPerHour }: PriceInputs) =>
  surplusByHour(Number(rateMinor), surplusPerHour?.teachingHours ?? '0').targetSurplusMinor;

const counted = (count: string, what: string) => `${count} ${count === '1' ? what : `${what}s`}`;

/** "9 h 20 min": hours that are a third or a sixth have no short decimal. */
function duration(hours: string): string {
  const minutes = new Decimal(hours).times(60).round().toNumber();
  const [whole, rest] = [Math.floor(minutes / 60), minutes % 60];
  return [whole > 0 && `${whole}\u00a0h`, (rest > 0 || whole === 0) && `${rest}\u00a0min`].filter(Boolean).join(' ');
}

const beside = ({ ownerHoursPerStudent }: PriceInputs) =>
  new Decimal(ownerHoursPerStudent).isZero() ? '' : ', besides those for each student';
