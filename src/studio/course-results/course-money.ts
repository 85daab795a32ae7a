import type { Transaction } from '../../database/transaction.js';
import { Decimal, formatMoneyInText } from '../../trade/money/money.js';
import { vatOfParts } from '../../trade/money/tax.js';
import { formatPercent } from '../../trade/text/format.js';
import { CHARGE_INCLUDE, taxPartsOf } from '../accounts/charges/charge-state.js';
import { getChargeStates } from '../accounts/queries.js';
import type { Studio } from '../settings/contract.js';

/** What a course brought in by the books. Exact minor units as decimals; a detail is a sentence for the owner. */
export type CourseMoney = {
  takings: { quantity: number; amountMinor: number; detail: string };
  cardFees: { quantity: number; amountMinor: Decimal; detail: string };
  owedMinor: number;
};

/**
 * Takings: what was charged for all bookings of a course less what was credited, net of the VAT frozen with each charge; what was kept
 * of a cancelled booking counts. Card fees: the studio's percentage and sum for each payment by card that came in for them; of a
 * payment that paid for something else as well, in proportion.
 */
export async function getCourseMoney(
  tx: Transaction,
  courseId: string,
  students: number,
  studio: Studio,
): Promise<CourseMoney> {
  const bookings = await tx.booking.findMany({
    where: { courseId },
    select: { cancelledAt: true, chargeId: true, charge: { include: CHARGE_INCLUDE } },
    orderBy: { id: 'asc' },
  });
  const states = await getChargeStates(
    tx,
    bookings.map(({ chargeId }) => chargeId),
  );
  let [askedMinor, vatMinor, keptMinor, owedMinor] = [0, 0, 0, 0];
  for (const { chargeId, charge, cancelledAt } of bookings) {
    const state = states.get(chargeId);
    const leftMinor = (state?.grossMinor ?? 0) - (state?.creditedMinor ?? 0);
    askedMinor += leftMinor;
    vatMinor += vatOfParts(taxPartsOf(charge), 0, leftMinor);
    if (cancelledAt) keptMinor += leftMinor;
    owedMinor += state?.owedMinor ?? 0;
  }
  const money = (minor: number) => formatMoneyInText(minor, studio.currency, studio.locale);
  const kept = keptMinor > 0 ? `; ${money(keptMinor)} of it was kept from cancelled bookings` : '';
  const detail = `${money(askedMinor)} charged, including ${money(vatMinor)} VAT${kept}.`;
  return {
    takings: { quantity: students, amountMinor: askedMinor - vatMinor, detail },
    cardFees: await cardFees(tx, [...states.keys()], studio),
    owedMinor,
  };
}

async function cardFees(
  tx: Transaction,
  chargeIds: readonly string[],
  studio: Studio,
): Promise<CourseMoney['cardFees']> {
  const paid = await tx.allocation.findMany({
    where: { chargeId: { in: [...chargeIds] }, payment: { method: 'card', amountMinor: { gt: 0 }, reversedBy: null } },
    select: { amountMinor: true, paymentId: true, payment: { select: { amountMinor: true } } },
  });
  const amountMinor = paid.reduce((sum, { amountMinor: partMinor, payment }) => {
    const percentage = new Decimal(partMinor).times(studio.cardPercent).div(100);
    return sum.plus(percentage).plus(new Decimal(studio.cardFixedMinor).times(partMinor).div(payment.amountMinor));
  }, new Decimal(0));
  const count = new Set(paid.map(({ paymentId }) => paymentId)).size;
  const fixed = formatMoneyInText(studio.cardFixedMinor, studio.currency, studio.locale);
  const detail = `${count === 1 ? 'One payment' : `${count} payments`} by card, at ${formatPercent(studio.cardPercent, studio.locale)} and ${fixed} each.`;
  return { quantity: count, amountMinor, detail };
}
