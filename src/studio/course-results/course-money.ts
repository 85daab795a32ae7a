import type { Transaction } from '../../database/transaction.js';
import { Decimal, formatMoneyInText } from '../../trade/money/money.js';
import { vatOfParts } from '../../trade/money/tax.js';
import { formatPercent } from '../../trade/text/format.js';
import { partsOf, WITH_PARTS } from '../accounts/charges/charge-state.js';
import { chargeStates } from '../accounts/queries.js';
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
export async function courseMoney(
  tx: Transaction,
  courseId: string,
  students: number,
  home: Studio,
): Promise<CourseMoney> {
  const bookings = await tx.booking.findMany({
    where: { courseId },
    select: { cancelledAt: true, chargeId: true, charge: { include: WITH_PARTS } },
    orderBy: { id: 'asc' },
  });
  const states = await chargeStates(
    tx,
    bookings.map(({ chargeId }) => chargeId),
  );
  let [askedMinor, vatMinor, keptMinor, owedMinor] = [0, 0, 0, 0];
  for (const { chargeId, charge, cancelledAt } of bookings) {
    const state = states.get(chargeId);
    const leftMinor = (state?.grossMinor ?? 0) - (state?.creditedMinor ?? 0);
    askedMinor += leftMinor;
    vatMinor += vatOfParts(partsOf(charge), 0, leftMinor);
    if (cancelledAt) keptMinor += leftMinor;
    owedMinor += state?.owedMinor ?? 0;
  }
  const money = (minor: number) => formatMoneyInText(minor, home.currency, home.locale);
  const kept = keptMinor > 0 ? `; ${money(keptMinor)} of it was kept from cancelled bookings` : '';
  const detail = `${money(askedMinor)} charged, including ${money(vatMinor)} VAT${kept}.`;
  return {
    takings: { quantity: students, amountMinor: askedMinor - vatMinor, detail },
    cardFees: await cardFees(tx, [...states.keys()], home),
    owedMinor,
  };
}

async function cardFees(tx: Transaction, chargeIds: readonly string[], home: Studio): Promise<CourseMoney['cardFees']> {
  const paid = await tx.allocation.findMany({
    where: { chargeId: { in: [...chargeIds] }, payment: { method: 'card', amountMinor: { gt: 0 } } },
    select: { amountMinor: true, paymentId: true, payment: { select: { amountMinor: true } } },
  });
  const amountMinor = paid.reduce((sum, { amountMinor: partMinor, payment }) => {
    const percentage = new Decimal(partMinor).times(home.cardPercent).div(100);
    return sum.plus(percentage).plus(new Decimal(home.cardFixedMinor).times(partMinor).div(payment.amountMinor));
  }, new Decimal(0));
  const count = new Set(paid.map(({ paymentId }) => paymentId)).size;
  const fixed = formatMoneyInText(home.cardFixedMinor, home.currency, home.locale);
  const detail = `${count === 1 ? 'One payment' : `${count} payments`} by card, at ${formatPercent(home.cardPercent, home.locale)} and ${fixed} each.`;
  return { quantity: count, amountMinor, detail };
}
