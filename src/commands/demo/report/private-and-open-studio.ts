import type { CoursePrice, PrivatePrice } from '../../../studio/pricing/contract.js';
import { roundHalfUp } from '../../../trade/money/money.js';
import { floors } from './price.js';
import { type Money, section, table } from './text.js';

/** What a group of its own pays, by how many come. */
export function privateSection({ title, priceMinor, inputs, result, perHeadAboveMinor }: PrivatePrice, money: Money) {
  const answer =
    `Ask ${money.inText(result.fairPriceMinor)} for a group of up to ${inputs.groupOf}, and ${money.inText(result.perHeadAboveMinor)} for each extra person; ` +
    `sold today at ${money.inText(priceMinor)} and ${money.inText(perHeadAboveMinor)}. ${floors(inputs, result, money)}`;
  return section(
    `What must the private session "${title}" cost?`,
    answer,
    table(
      [
        { head: 'people', align: 'right' },
        ...['they would pay', 'left over', 'your pay an hour'].map((head) => ({ head, align: 'right' as const })),
      ],
      result.ladder.map(({ heads, chargedMinor, resultMinor, ownerPayPerHourMinor }) => [
        ...[String(heads), money.inTable(chargedMinor), money.inTable(roundHalfUp(resultMinor))],
        money.inTable(roundHalfUp(ownerPayPerHourMinor)),
      ]),
    ),
  );
}

/** Open studio is sold by the visit, and runs even if nobody comes. */
export function openStudioSection({ title, priceMinor, inputs, result }: CoursePrice, money: Money): string {
  const nobody = result.ladder.find(({ students }) => students === 0);
  const costs = nobody
    ? ` An evening on which nobody comes costs ${money.inText(-roundHalfUp(nobody.resultMinor))}, your time included.`
    : '';
  return section(
    `What must a visit to "${title}" cost?`,
    `Ask ${money.inText(result.fairPriceMinor)} for a bench and visit; sold today at ${money.inText(priceMinor)}. ${floors(inputs, result, money)}${costs}`,
  );
}
