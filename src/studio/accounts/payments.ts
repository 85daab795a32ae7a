import type { Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { vatOfPart } from '../../trade/tax.js';
import { person } from '../people/service.js';
import { chargeWithState, nextDue } from './charge.js';
import type { NewPayment, Payment, PaymentMethod } from './contract.js';
import { type AccountCode, type Line, post, type When, whenOf } from './journal.js';
import { issueReceipt, type PaidPart } from './papers.js';
import { lockCharges } from './queries.js';

const DRAWER: Record<PaymentMethod, AccountCode> = { cash: 'cash', card: 'card', transfer: 'bank' };

/**
 * Takes a payment for one or more charges of one person and issues its receipt. Charges are locked first, so that the same money
 * taken at two tills is refused at the second.
 */
export async function takePayment(tx: Transaction, now: Date, wanted: NewPayment): Promise<Payment> {
  const payer = await person(tx, wanted.personId);
  const chargeIds = wanted.for.map((part) => part.chargeId);
  if (new Set(chargeIds).size < chargeIds.length)
    throw new Problem('invalid-request', 'A charge is named twice. Add its amounts up and name it once.');
  await lockCharges(tx, chargeIds);
  const parts = [];
  for (const { chargeId, amountMinor } of wanted.for) parts.push(await partOf(tx, payer.id, chargeId, amountMinor));

  const amountMinor = parts.reduce((sum, part) => sum + part.amountMinor, 0);
  const when = await whenOf(tx, now);
  const entryId = await post(tx, when, {
    description: `Paid by ${payer.name}, ${wanted.method}`,
    lines: [
      { account: DRAWER[wanted.method], amountMinor },
      { account: 'receivable', personId: payer.id, amountMinor: -amountMinor },
      ...parts.flatMap((part) => taxPoint(part)),
    ],
  });
  const paymentId = newId();
  await record(tx, when, { id: paymentId, personId: payer.id, method: wanted.method, amountMinor, entryId }, parts);
  const receipt = await issueReceipt(tx, now, { paymentId, payer, method: wanted.method, parts });
  return { id: paymentId, personId: payer.id, amountMinor, method: wanted.method, ...receipt };
}

/** Pays back part of what was paid for a charge, once that part has been credited. */
export async function payOut(
  tx: Transaction,
  when: When,
  refund: { personId: string; chargeId: string; amountMinor: number; method: PaymentMethod },
): Promise<void> {
  const { personId, chargeId, amountMinor, method } = refund;
  const entryId = await post(tx, when, {
    description: `Paid back, ${method}`,
    lines: [
      { account: 'receivable', personId, amountMinor },
      { account: DRAWER[method], amountMinor: -amountMinor },
    ],
  });
  const payment = { id: newId(), personId, method, amountMinor: -amountMinor, entryId };
  await record(tx, when, payment, [{ chargeId, amountMinor: -amountMinor }]);
}

async function partOf(tx: Transaction, personId: string, chargeId: string, amountMinor: number): Promise<PaidPart> {
  const { row, state, tax } = await chargeWithState(tx, chargeId);
  if (row.personId !== personId)
    throw new Problem('not-found', `"${row.description}" is owed by somebody else. Take the payment from that person.`);
  if (state.owedMinor === 0)
    throw new Problem('nothing-owed', `"${row.description}" is settled. If money came in twice, give it back.`);
  if (amountMinor > state.owedMinor)
    throw new Problem('more-than-owed', `"${row.description}" leaves less to pay. Take at most what owedMinor says.`, {
      owedMinor: state.owedMinor,
    });
  const vatMinor = vatOfPart(state.paidMinor, amountMinor, tax);
  const isDeposit = row.inAdvance && row.supply === null;
  const payBy = await nextDue(tx, chargeId, state.creditedMinor + state.paidMinor + amountMinor);
  return {
    chargeId,
    description: row.description,
    taxName: row.taxName,
    amountMinor,
    vatMinor,
    tax,
    state,
    isDeposit,
    payBy,
  };
}

/** Money for what is still to come is held net of its VAT, which is due as it is paid. */
function taxPoint(part: PaidPart): Line[] {
  if (!part.isDeposit) return [];
  return [
    { account: 'billed-in-advance', amountMinor: part.amountMinor },
    { account: 'vat', amountMinor: -part.vatMinor },
    { account: 'deposits-held', amountMinor: -(part.amountMinor - part.vatMinor) },
  ];
}

async function record(
  tx: Transaction,
  { at, on }: When,
  payment: { id: string; personId: string; method: PaymentMethod; amountMinor: number; entryId: string | null },
  parts: { chargeId: string; amountMinor: number }[],
): Promise<void> {
  const { entryId } = payment;
  if (entryId === null) throw new Problem('not-balanced', 'A payment of nothing is no payment.');
  await tx.payment.create({ data: { ...payment, entryId, receivedOn: toDate(on), at } });
  await tx.allocation.createMany({
    data: parts.map(({ chargeId, amountMinor }) => ({ paymentId: payment.id, chargeId, amountMinor })),
  });
}
