import type { Transaction } from '../../../database/transaction.js';
import { toDate } from '../../../database/values.js';
import { monthOf } from '../../../trade/calendar/calendar.js';
import { includedOfBill } from '../../../trade/money/membership-use.js';
import { numberFormat } from '../../../trade/text/formatters.js';
import { creditPart } from '../../accounts/charges/charges.js';
import { monthInWords } from '../words.js';
import { getFiringLeftMm3, includesOn, lockMembers } from './queries.js';

type Billed = { personId: string; chargeId: string; billedMm3: bigint; grossMinor: number };

/**
 * Takes off the bills of a firing what its makers' memberships include of the room that their pieces took, in the month in which it was
 * fired. What is beyond stays charged at the firing's own price.
 *
 * @returns what was taken off, by the charge
 */
export async function includeFiring(
  tx: Transaction,
  now: Date,
  firedOn: string,
  bills: readonly Billed[],
  locale: string,
): Promise<Map<string, number>> {
  const taken = new Map<string, number>();
  const members =
    bills.length === 0
      ? []
      : await lockMembers(
          tx,
          bills.map(({ personId }) => personId),
          'firing',
        );
  const month = monthOf(firedOn);
  for (const { personId, chargeId, billedMm3, grossMinor } of bills) {
    const member = members.find((each) => each.personId === personId && includesOn(each, firedOn));
    const left = member ? await getFiringLeftMm3(tx, member.id, month) : 0n;
    const mm3 = left < billedMm3 ? left : billedMm3;
    const amountMinor = mm3 === 0n ? 0 : includedOfBill(grossMinor, mm3, billedMm3);
    if (!member || amountMinor === 0) continue;
    const litres = numberFormat(locale, { maximumFractionDigits: 1 }).format(Number(mm3) / 1_000_000);
    const reason = `Included in the membership: ${litres} litres of ${monthInWords(month, locale)}`;
    const creditId = await creditPart(tx, now, chargeId, { amountMinor, reason });
    if (creditId === null) continue;
    await tx.membershipFiring.create({
      data: { chargeId, membershipId: member.id, month: toDate(month), mm3, billedMm3, creditId },
    });
    taken.set(chargeId, amountMinor);
  }
  return taken;
}
