import type { Transaction } from '../../../database/transaction.js';
import { toDate } from '../../../database/values.js';
import { localDay, monthOf } from '../../../trade/calendar/calendar.js';
import { quantityInWords, saleMinor } from '../../../trade/money/sale-units.js';
import { creditPart } from '../../accounts/charges/charges.js';
import { getStudio } from '../../settings/service.js';
import { monthInWords } from '../words.js';
import { getClayLeftGrams, includesOn, lockMembers } from './queries.js';

type Sold = {
  saleId: string;
  chargeId: string;
  personId: string;
  materialId: string;
  quantity: number;
  priceMinor: number;
};

/** Takes off a sale of clay what the buyer's membership includes of it this month; what is beyond stays at its price. */
export async function includeClay(tx: Transaction, now: Date, sold: Sold): Promise<void> {
  const members = await lockMembers(tx, [sold.personId], 'clay');
  if (members.length === 0) return;
  const { timeZone, locale } = await getStudio(tx);
  const today = localDay(now, timeZone);
  const member = members.find((each) => each.clayId === sold.materialId && includesOn(each, today));
  if (!member) return;
  const month = monthOf(today);
  const grams = Math.min(sold.quantity, await getClayLeftGrams(tx, member.id, month));
  if (grams === 0) return;
  const { quantity, priceMinor, chargeId } = sold;
  const amountMinor = saleMinor(quantity, 'g', priceMinor) - saleMinor(quantity - grams, 'g', priceMinor);
  const reason = `Included in the membership: ${quantityInWords(grams, 'g', locale)} of ${monthInWords(month, locale)}`;
  const creditId = await creditPart(tx, now, chargeId, { amountMinor, reason });
  await tx.membershipClay.create({
    data: { saleId: sold.saleId, membershipId: member.id, month: toDate(month), grams, creditId },
  });
}
