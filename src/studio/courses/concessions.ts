import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { Decimal } from '../../trade/money/money.js';
import { soldPriceMinor } from '../../trade/pricing/takings.js';
import type { NewCourse } from './contract.js';
import type { Plan } from './plan-contract.js';

/**
 * The prices below the full one of a course: those given with it, or those that its plan's rule makes of its price, each for at most
 * the part of the places with which the plan was priced.
 *
 * @returns rows without the course's id, in order
 */
export function concessionRows(plan: Plan, { concessions, priceMinor, places }: NewCourse) {
  const list = concessions ?? plan.soldAt.map((at) => derived(at, priceMinor, places));
  return list.map(({ atMost = null, payments = null, ...rest }, i) => ({
    ...{ ...rest, atMost, payments },
    ...{ id: newId(), ordinal: i + 1 },
  }));
}

function derived(
  { label, sharePercent, pricePercent, lessMinor, payments }: Plan['soldAt'][number],
  full: number,
  places: number,
) {
  const priceMinor = soldPriceMinor(full, { pricePercent, discountMinor: lessMinor });
  if (priceMinor < 1)
    throw new Problem(
      'invalid-request',
      `"${label}" would cost nothing at this price. Ask a higher price, or name the course's concessions yourself.`,
    );
  return { label, priceMinor, payments, atMost: new Decimal(sharePercent).times(places).div(100).ceil().toNumber() };
}

/** Refuses terms that don't fit the kind of the plan. */
export function refuseOtherKind({ kind, name }: Plan, wanted: NewCourse): void {
  const refuse = (sentence: string) => {
    throw new Problem('invalid-request', `The plan "${name}" ${sentence}`);
  };
  if (kind === 'private' && wanted.perHeadAboveMinor === undefined)
    refuse('is for a private session. Say what each person above its group costs.');
  if (kind !== 'private' && wanted.perHeadAboveMinor !== undefined)
    refuse('is not for a private session, so there is no price for each person above a group. Remove it.');
  if (kind === 'private' && (wanted.concessions ?? []).length > 0)
    refuse('is for a private session, which has one price for its group. Remove the concessions.');
  if ((kind === 'openStudio') !== (wanted.minimum === 0))
    refuse(
      kind === 'openStudio'
        ? 'is for open studio, which runs even if nobody comes. Give 0 as its minimum.'
        : 'needs a minimum number of students. Give 1 or more.',
    );
}
