import type { Transaction } from '../../database/transaction.js';
import { fromDate } from '../../database/values.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { getStudio } from '../settings/service.js';
import type { Debtor, Receipt } from './contract.js';
import { numbered } from './payments/receipts.js';
import { type ChargeState, listReminded, listUnpaidCharges } from './queries.js';

/** Who owes what by a day, with firing fees and held places apart, and who was reminded; the most due first, who only holds a place last. */
export async function listDebtors(tx: Transaction, today: string, personId?: string): Promise<Debtor[]> {
  const charges = (await listUnpaidCharges(tx, today, personId)).map(separateHold);
  const byPerson = groupBy(charges, (c) => c.personId);
  const people = await listReminded(tx, [...byPerson.keys()]);
  const { timeZone } = await getStudio(tx);
  const sum = (list: typeof charges, what: 'owedMinor' | 'dueMinor' | 'heldMinor') =>
    list.reduce((total, c) => total + c[what], 0);
  return people
    .map(({ id, name, email, remindedAt }) => {
      const own = byPerson.get(id) ?? [];
      const firing = own.filter((c) => c.kind === 'firing');
      return {
        personId: id,
        name,
        owedMinor: sum(own, 'owedMinor'),
        dueMinor: sum(own, 'dueMinor'),
        heldMinor: sum(own, 'heldMinor'),
        firingOwedMinor: sum(firing, 'owedMinor'),
        firingDueMinor: sum(firing, 'dueMinor'),
        hasEmail: email !== null,
        remindedOn: remindedAt && localDay(remindedAt, timeZone),
        charges: own,
      };
    })
    .sort((a, b) => b.dueMinor - a.dueMinor || b.owedMinor - a.owedMinor || a.name.localeCompare(b.name));
}

/** What is asked for a held place is no part of what is owed, so that every sum of it says what people owe. */
export function separateHold({ hold, ...charge }: ChargeState): Debtor['charges'][number] {
  if (!hold) return { ...charge, heldMinor: 0, hold };
  const held = { until: hold.until.toISOString(), depositMinor: hold.depositMinor };
  return { ...charge, owedMinor: 0, dueMinor: 0, heldMinor: charge.owedMinor, hold: held };
}

const RECEIPTS_MAX = 200;

/** Receipts after a number, in the order of their numbers; at most 200. */
export async function listReceipts(tx: Transaction, afterNumber: number): Promise<Receipt[]> {
  const rows = await tx.receipt.findMany({
    where: { series: 'R', number: { gt: afterNumber } },
    orderBy: { number: 'asc' },
    take: RECEIPTS_MAX,
    include: { payment: { include: { person: true } } },
  });
  return rows.map(({ number, paymentId, documentId, payment }) => ({
    number: numbered('R', number),
    paymentId,
    documentId,
    personId: payment.personId,
    personName: payment.person.name,
    receivedOn: fromDate(payment.receivedOn),
    amountMinor: payment.amountMinor,
  }));
}
