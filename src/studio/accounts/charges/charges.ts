import type { Transaction } from '../../../database/transaction.js';
import { toDate } from '../../../database/values.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { type TaxedPart, vatOfParts } from '../../../trade/money/tax.js';
import { getStudio } from '../../settings/service.js';
import type { ChargeKind, RefundMethod } from '../contract.js';
import { type AccountCode, getPostingTime, type LedgerLine, postEntry } from '../ledger.js';
import { carryIn, carryOut } from '../payments/carry.js';
import { payOut } from '../payments/refunds.js';
import { insertCharge, lockCharges, type TaxColumns } from '../queries.js';
import { assertAmount } from './assert-amount.js';
import { type ChargePart, getChargeWithState } from './charge-state.js';
import { type Carried, issueCreditNote, type RefundLetter } from './credit-notes.js';
import { freezeTaxParts, type NewPart } from './tax-parts.js';

const INCOME: Record<ChargeKind, AccountCode> = {
  course: 'course-income',
  firing: 'firing-income',
  material: 'material-income',
  membership: 'membership-income',
};

export type NewCharge = {
  personId: string;
  kind: ChargeKind;
  description: string;
  grossMinor: number;
  taxRateId: string;
  /** how many places, pieces or packs it is for; 1 where it isn't counted */
  quantity?: number;
  /** what of the gross sum is taxed at another rate */
  parts?: readonly NewPart[];
  /** what the rest of it is for, beside those parts */
  restLabel?: string | null;
  /** billed before it is supplied: what is paid is a deposit until supply() */
  inAdvance: boolean;
  /** adds up to grossMinor; one per day */
  instalments: { dueOn: string; amountMinor: number }[];
};

/**
 * Asks a person for money: one supply at one price, whose parts may bear different taxes. What is billed in advance is income only once it is supplied, and
 * its VAT falls due as it is paid; what is not counts as supplied today. See taxPoint.
 *
 * @returns the charge's id
 */
export async function createCharge(tx: Transaction, now: Date, wanted: NewCharge): Promise<string> {
  const studio = await getStudio(tx);
  assertAmount(wanted.grossMinor, studio);
  const parts = await freezeTaxParts(tx, studio, wanted);
  const [own, ...others] = parts;
  const { personId, kind, description, quantity = 1, grossMinor, inAdvance, instalments } = wanted;
  const vat = vatOfParts(parts, 0, grossMinor);
  const when = { at: now, on: localDay(now, studio.timeZone) };
  const entryId = await postEntry(tx, when, {
    description,
    lines: [
      { account: 'receivable', personId, amountMinor: grossMinor },
      ...(inAdvance
        ? [{ account: 'billed-in-advance' as const, amountMinor: -grossMinor }]
        : [
            { account: 'vat' as const, amountMinor: -vat },
            { account: INCOME[kind], amountMinor: -(grossMinor - vat) },
          ]),
    ],
  });
  if (entryId === null) throw new Problem('invalid-request', 'The amount must be more than zero.');
  const id = newId();
  await insertCharge(
    tx,
    {
      ...{ id, personId, kind, description, quantity, grossMinor, inAdvance, entryId },
      ...{ chargedOn: when.on, restLabel: own.label },
      ...taxColumns(own),
    },
    others.map((part, i) => ({
      ...{ ordinal: i + 1, label: part.label ?? '', grossMinor: part.grossMinor },
      ...taxColumns(part),
    })),
    instalments,
  );
  return id;
}

const taxColumns = ({ taxName, tax }: ChargePart): TaxColumns => ({
  ...{ taxName, taxKind: tax.kind },
  taxPercent: tax.kind === 'standard' ? tax.percent : null,
});

/** What was billed in advance has been supplied: what was paid becomes income, and VAT falls due on what wasn't. Twice changes nothing. */
export async function recordSupply(tx: Transaction, now: Date, chargeId: string): Promise<void> {
  await lockCharges(tx, [chargeId]);
  const { row, state, parts } = await getChargeWithState(tx, chargeId);
  if (!row.inAdvance || row.supply) return;
  const asked = state.grossMinor - state.creditedMinor;
  const vatPaid = vatOfParts(parts, 0, state.paidMinor);
  const vatAsked = vatOfParts(parts, 0, asked);
  const when = await getPostingTime(tx, now);
  const entryId = await postEntry(tx, when, {
    description: `Supplied: ${row.description}`,
    correctsId: row.entryId,
    lines: [
      { account: 'deposits-held', amountMinor: state.paidMinor - vatPaid },
      { account: 'billed-in-advance', amountMinor: state.owedMinor },
      { account: 'vat', amountMinor: vatPaid - vatAsked },
      { account: INCOME[row.kind], amountMinor: vatAsked - asked },
    ],
  });
  await tx.supply.create({ data: { chargeId, entryId, suppliedOn: toDate(when.on) } });
}

/** How money goes back and why; the explanation is for the letter of the refund, how it was worked out and what may follow. */
type Refunding = {
  method?: RefundMethod | undefined;
  reason: string;
  explanation?: string | undefined;
  /** what is sent with the credit note; the letter of a refund, if left out */
  letter?: RefundLetter | undefined;
};

/**
 * Calls a charge off: what is unpaid is no longer asked for, `refundMinor` of what was paid goes back with its VAT and a credit
 * note, and the rest is kept as income. What was paid last goes back first: by `method`, or on the voucher that it came from.
 */
export async function cancelCharge(
  tx: Transaction,
  now: Date,
  chargeId: string,
  how: Refunding & { refundMinor: number },
): Promise<void> {
  await lockCharges(tx, [chargeId]);
  const { state } = await getChargeWithState(tx, chargeId);
  if (how.refundMinor > state.paidMinor)
    throw new Problem('more-than-owed', 'No more can be refunded than was paid.', { paidMinor: state.paidMinor });
  await credit(tx, now, chargeId, { ...how, unpaidMinor: state.owedMinor });
  await recordSupply(tx, now, chargeId);
}

/**
 * Asks for less than was charged, for so many of it (`quantity`): `amountMinor` less of what is unpaid, and where less is unpaid, the rest of it goes back by `method`
 * with a credit note, as in cancelCharge.
 *
 * @returns the credit's id; null where nothing is credited
 */
export async function creditPart(
  tx: Transaction,
  now: Date,
  chargeId: string,
  how: Refunding & { amountMinor: number; quantity?: number },
): Promise<string | null> {
  await lockCharges(tx, [chargeId]);
  const { state } = await getChargeWithState(tx, chargeId);
  const { amountMinor, ...by } = how;
  const unpaidMinor = Math.min(amountMinor, state.owedMinor);
  const refundMinor = amountMinor - unpaidMinor;
  if (refundMinor > state.paidMinor)
    throw new Problem('more-than-owed', 'No more can be credited than was asked for.', { paidMinor: state.paidMinor });
  return (await credit(tx, now, chargeId, { ...by, unpaidMinor, refundMinor }))?.creditId ?? null;
}

/**
 * Asks for less than was charged: `unpaidMinor` of what is unpaid, while `refundMinor` of what was paid goes back, as in cancelCharge.
 * What of it is paid and does not go back stays paid for the charge, and is income once that is supplied.
 *
 * @returns the credit's id; null where nothing is credited
 */
export async function creditAndRefund(
  tx: Transaction,
  now: Date,
  chargeId: string,
  how: Refunding & Credited & { quantity?: number },
): Promise<string | null> {
  await lockCharges(tx, [chargeId]);
  const { state } = await getChargeWithState(tx, chargeId);
  if (how.unpaidMinor > state.owedMinor || how.refundMinor > state.paidMinor)
    throw new Problem('more-than-owed', 'No more can be credited than was asked for.', { paidMinor: state.paidMinor });
  return (await credit(tx, now, chargeId, how))?.creditId ?? null;
}

/**
 * Calls a charge off as what it was for is moved: `carriedMinor` of what was paid pays of another charge of the same person instead,
 * `refundMinor` goes back, and the rest is kept as income. The papers of both charges say so.
 *
 * @returns the receipt of what is carried over; null where nothing is
 */
export async function moveCharge(
  tx: Transaction,
  now: Date,
  { fromId, toId, carriedMinor, ...how }: Refunding & Moving,
): Promise<{ receiptNumber: string; documentId: string } | null> {
  await lockCharges(tx, [fromId, toId]);
  const { state, row } = await getChargeWithState(tx, fromId);
  if (carriedMinor + how.refundMinor > state.paidMinor)
    throw new Problem('more-than-owed', 'No more can be carried over than was paid.', { paidMinor: state.paidMinor });
  const to = (await getChargeWithState(tx, toId)).row.description;
  const moved = await credit(tx, now, fromId, {
    ...how,
    unpaidMinor: state.owedMinor,
    carry: carriedMinor === 0 ? null : { amountMinor: carriedMinor, to },
  });
  await recordSupply(tx, now, fromId);
  if (!moved?.carried) return null;
  const from = { what: row.description, creditNote: moved.creditNoteNumber };
  return carryIn(tx, now, { chargeId: toId, from, outId: moved.carried.outId, parts: moved.carried.parts });
}

type Moving = { fromId: string; toId: string; carriedMinor: number; refundMinor: number };

type Crediting = Refunding & Credited & { quantity?: number; carry?: Pick<Carried, 'amountMinor' | 'to'> | null };
type Made = {
  creditId: string;
  creditNoteNumber: string;
  carried: Awaited<ReturnType<typeof carryOut>> | null;
};

/**
 * Credits what is no longer asked for, what goes back, which is paid out, and what is carried over. Call under the charge's lock.
 *
 * @returns null where nothing is credited
 */
async function credit(tx: Transaction, now: Date, chargeId: string, how: Crediting): Promise<Made | null> {
  const { unpaidMinor, method, reason, explanation = null, letter, carry = null } = how;
  const refundMinor = how.refundMinor + (carry?.amountMinor ?? 0); // what is paid no more, whatever becomes of it
  const amountMinor = unpaidMinor + refundMinor;
  if (amountMinor === 0) return null;
  const { row, state, parts } = await getChargeWithState(tx, chargeId);
  const when = await getPostingTime(tx, now);
  const entryId = await postEntry(tx, when, {
    description: `Credit: ${row.description} (${reason})`,
    correctsId: row.entryId,
    lines:
      row.inAdvance && !row.supply
        ? creditInAdvance(row.personId, state, { unpaidMinor, refundMinor }, parts)
        : creditOfSupplied(row, state, amountMinor, parts),
  });
  if (entryId === null) throw new Problem('not-balanced', 'Nothing is left to credit.');
  const creditId = newId();
  const creditedOn = toDate(when.on);
  await tx.credit.create({ data: { id: creditId, chargeId, amountMinor, reason, creditedOn, entryId } });
  if (refundMinor === 0) return { creditId, creditNoteNumber: '', carried: null };
  const going = { personId: row.personId, chargeId };
  const paidBack =
    how.refundMinor === 0 ? [] : await payOut(tx, when, { ...going, amountMinor: how.refundMinor, method });
  const carried = carry && { ...carry, ...(await carryOut(tx, when, { ...going, amountMinor: carry.amountMinor })) };
  const { paidMinor } = state;
  const quantity = how.quantity ?? row.quantity;
  const paper = { creditId, chargeId, quantity, refundMinor, paidMinor, paidBack, carried };
  const credited = { ...paper, reason, explanation, letter };
  return { creditId, creditNoteNumber: await issueCreditNote(tx, now, credited), carried };
}

type Credited = { unpaidMinor: number; refundMinor: number };
type State = { paidMinor: number; grossMinor: number; creditedMinor: number };

function creditInAdvance(
  personId: string,
  state: State,
  { unpaidMinor, refundMinor }: Credited,
  parts: readonly TaxedPart[],
): LedgerLine[] {
  const vat = -vatOfParts(parts, state.paidMinor, -refundMinor);
  return [
    { account: 'billed-in-advance', amountMinor: unpaidMinor },
    { account: 'deposits-held', amountMinor: refundMinor - vat },
    { account: 'vat', amountMinor: vat },
    { account: 'receivable', personId, amountMinor: -(unpaidMinor + refundMinor) },
  ];
}

function creditOfSupplied(
  row: { personId: string; kind: ChargeKind },
  state: State,
  amountMinor: number,
  parts: readonly TaxedPart[],
): LedgerLine[] {
  const vat = -vatOfParts(parts, state.grossMinor - state.creditedMinor, -amountMinor);
  return [
    { account: INCOME[row.kind], amountMinor: amountMinor - vat },
    { account: 'vat', amountMinor: vat },
    { account: 'receivable', personId: row.personId, amountMinor: -amountMinor },
  ];
}
