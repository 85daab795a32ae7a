import { Prisma } from '../../database/generated/client.js';
import { rowsOf } from '../../database/rows-of.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate } from '../../database/values.js';
import type { ChargeKind } from './contract.js';

export type ChargeState = {
  chargeId: string;
  personId: string;
  kind: ChargeKind;
  description: string;
  grossMinor: number;
  creditedMinor: number;
  paidMinor: number;
  /** what is still asked for */
  owedMinor: number;
  /** of a place that is held and for which nothing was paid: until when, and the deposit that confirms it; null of any other */
  hold: { until: Date; depositMinor: number } | null;
  /** of that, what was due by the day asked about */
  dueMinor: number;
  /** the first day on which something unpaid is due; null where nothing is owed */
  dueOn: string | null;
};

/**
 * Locks charges until the transaction ends, in id order, so that two payments of one charge come one after the other and two
 * of several can't wait for each other.
 */
export async function lockCharges(tx: Transaction, chargeIds: readonly string[]): Promise<void> {
  if (chargeIds.length === 0) return;
  await tx.$queryRaw`SELECT id FROM charge WHERE id IN (${ids(chargeIds)}) ORDER BY id FOR UPDATE`;
}

/** Locks vouchers likewise, after the charges: two tills would both find enough on one. */
export async function lockVouchers(tx: Transaction, voucherIds: readonly string[]): Promise<void> {
  if (voucherIds.length === 0) return;
  await tx.$queryRaw`SELECT id FROM voucher WHERE id IN (${ids(voucherIds)}) ORDER BY id FOR UPDATE`;
}

/** What is left on vouchers, by their ids. Judge it under lockVouchers where you are about to move it. */
export async function getRemainingOn(tx: Transaction, voucherIds: readonly string[]): Promise<Map<string, number>> {
  const sums = await tx.voucherMove.groupBy({
    by: ['voucherId'],
    where: { voucherId: { in: [...voucherIds] } },
    _sum: { amountMinor: true },
  });
  return new Map(sums.map(({ voucherId, _sum }) => [voucherId, _sum.amountMinor ?? 0]));
}

/** How charges stand, by their ids. Judge them under lockCharges where you are about to change them. */
export async function getChargeStates(
  tx: Transaction,
  chargeIds: readonly string[],
): Promise<Map<string, ChargeState>> {
  if (chargeIds.length === 0) return new Map();
  const states = await select(tx, Prisma.sql`c.id IN (${ids(chargeIds)})`, '9999-12-31');
  return new Map(states.map((state) => [state.chargeId, state]));
}

/** Charges on which something is owed, of one person or of all, with what of it is due by a day; the longest due first. */
export async function listOpenCharges(tx: Transaction, today: string, personId?: string): Promise<ChargeState[]> {
  return (await listUnpaidCharges(tx, today, personId)).filter(({ hold }) => hold === null);
}

/** The same with those of held places: they are asked for and not owed, since they lapse where nobody pays. */
export async function listUnpaidCharges(tx: Transaction, today: string, personId?: string): Promise<ChargeState[]> {
  const of = personId ? Prisma.sql`c.person_id = ${personId}::uuid` : Prisma.sql`true`;
  return select(tx, Prisma.sql`c.id IN (SELECT charge_id FROM open_charge) AND ${of}`, today);
}

/** The next number of a series. Its row stays locked until the transaction ends: take it last, or everybody waits. */
export async function takeNextNumber(tx: Transaction, series: 'R' | 'C'): Promise<number> {
  const rows = await tx.$queryRaw<{ last_number: number }[]>`
    UPDATE number_series SET last_number = last_number + 1 WHERE series = ${series} RETURNING last_number`;
  const number = rows[0]?.last_number;
  if (number === undefined) throw new Error(`The series ${series} is missing: run "wareboard migrate".`);
  return number;
}

/** Each account's balance, debits above zero. Sums come back as text: a bigint would not survive JSON. */
export async function getBalances(tx: Transaction): Promise<{ code: string; name: string; balanceMinor: number }[]> {
  const rows = await tx.$queryRaw<{ code: string; name: string; balance: string }[]>`
    SELECT a.code, a.name, coalesce(sum(p.amount_minor), 0)::text AS balance
      FROM account a LEFT JOIN posting p ON p.account_code = a.code GROUP BY a.code, a.name, a.kind ORDER BY a.kind, a.code`;
  return rows.map(({ code, name, balance }) => ({ code, name, balanceMinor: Number(balance) }));
}

/** People by their ids, each with when the last reminder was written to them; null who had none. */
export async function listReminded(
  tx: Transaction,
  personIds: readonly string[],
): Promise<{ id: string; name: string; email: string | null; remindedAt: Date | null }[]> {
  return tx.$queryRaw`
    SELECT p.id::text, p.name, p.email,
           (SELECT max(n.created_at) FROM notice n WHERE n.person_id = p.id AND n.occasion = 'reminder') AS "remindedAt"
      FROM person p WHERE p.id = ANY(${personIds}::uuid[])`;
}

// What is written with every booking and payment is written by hand: an entry and its lines, a charge and what belongs to it, in one
// statement each, where Prisma would need two or three that cost several times as much.

/** Writes an entry of the books with its lines. Who posts sees to it that they add up to nothing. */
export async function insertEntry(
  tx: Transaction,
  entry: { id: string; on: string; at: Date; description: string; correctsId: string | null },
  lines: { id: string; account: string; personId: string | null; amountMinor: number }[],
): Promise<void> {
  await tx.$executeRaw`
    WITH entry AS (
      INSERT INTO journal_entry (id, posted_on, at, description, corrects_id)
      VALUES (${entry.id}::uuid, ${entry.on}::date, ${entry.at}, ${entry.description}, ${entry.correctsId}::uuid) RETURNING id)
    INSERT INTO posting (id, entry_id, account_code, person_id, amount_minor)
    SELECT l.id, entry.id, l.account, l."personId", l."amountMinor"
      FROM entry, ${rowsOf(lines)} AS l (id uuid, account text, "personId" uuid, "amountMinor" integer)`;
}

/** How a charge or a part of it is taxed, as its row keeps it. */
export type TaxColumns = { taxName: string; taxKind: string; taxPercent: string | null };

/** Writes a charge with its parts that bear other taxes, and its instalments. */
export async function insertCharge(
  tx: Transaction,
  charge: TaxColumns & {
    id: string;
    personId: string;
    kind: ChargeKind;
    description: string;
    quantity: number;
    grossMinor: number;
    restLabel: string | null;
    inAdvance: boolean;
    chargedOn: string;
    entryId: string;
  },
  parts: readonly (TaxColumns & { ordinal: number; label: string; grossMinor: number })[],
  instalments: readonly { dueOn: string; amountMinor: number }[],
): Promise<void> {
  await tx.$executeRaw`
    WITH charge AS (
      INSERT INTO charge (id, person_id, kind, description, quantity, gross_minor, rest_label, tax_name, tax_kind, tax_percent, in_advance,
                          charged_on, entry_id)
      VALUES (${charge.id}::uuid, ${charge.personId}::uuid, ${charge.kind}::charge_kind, ${charge.description}, ${charge.quantity},
              ${charge.grossMinor}, ${charge.restLabel}, ${charge.taxName}, ${charge.taxKind}::tax_kind, ${charge.taxPercent}::numeric,
              ${charge.inAdvance}, ${charge.chargedOn}::date, ${charge.entryId}::uuid) RETURNING id),
    part AS (
      INSERT INTO charge_part (charge_id, ordinal, label, tax_name, tax_kind, tax_percent, gross_minor)
      SELECT charge.id, p.ordinal, p.label, p."taxName", p."taxKind", p."taxPercent", p."grossMinor"
        FROM charge, ${rowsOf(parts)} AS p (ordinal integer, label text, "taxName" text, "taxKind" tax_kind, "taxPercent" numeric,
                                            "grossMinor" integer))
    INSERT INTO instalment (charge_id, due_on, amount_minor)
    SELECT charge.id, i."dueOn", i."amountMinor"
      FROM charge, ${rowsOf(instalments)} AS i ("dueOn" date, "amountMinor" integer)`;
}

/** Writes the receipt of a payment: its number in the series R, and its paper. */
export async function insertReceipt(
  tx: Transaction,
  { number, paymentId, documentId }: { number: number; paymentId: string; documentId: string },
): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO receipt (series, number, payment_id, document_id)
    VALUES ('R', ${number}, ${paymentId}::uuid, ${documentId}::uuid)`;
}

/** Writes a payment with what it pays of each charge; one that buys a voucher pays of none. */
export async function insertPayment(
  tx: Transaction,
  payment: { id: string; personId: string; amountMinor: number; method: string; on: string; at: Date; entryId: string },
  parts: readonly { chargeId: string; amountMinor: number }[],
): Promise<void> {
  await tx.$executeRaw`
    WITH payment AS (
      INSERT INTO payment (id, person_id, amount_minor, method, received_on, at, entry_id)
      VALUES (${payment.id}::uuid, ${payment.personId}::uuid, ${payment.amountMinor}, ${payment.method}::payment_method,
              ${payment.on}::date, ${payment.at}, ${payment.entryId}::uuid) RETURNING id)
    INSERT INTO allocation (payment_id, charge_id, amount_minor)
    SELECT payment.id, p."chargeId", p."amountMinor" FROM payment, ${rowsOf(parts)} AS p ("chargeId" uuid, "amountMinor" integer)`;
}

type Row = {
  id: string;
  person_id: string;
  kind: ChargeKind;
  description: string;
  gross: number;
  credited: number;
  paid: number;
  due: number;
  due_on: Date | null;
  held_until: Date | null;
  deposit: number | null;
};

// An instalment is settled by what was paid or credited: the earlier ones first. A booking with a deposit is a hold until something is
// paid; on the day on which its course begins it no longer lapses, and counts as owed.
async function select(tx: Transaction, condition: Prisma.Sql, today: string): Promise<ChargeState[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT c.id, c.person_id, c.kind, c.description, c.gross_minor AS gross, s.credited, s.paid,
           greatest(0, (SELECT coalesce(sum(i.amount_minor), 0) FROM instalment i
                         WHERE i.charge_id = c.id AND i.due_on <= ${today}::date)::int - s.credited - s.paid) AS due,
           (SELECT min(r.due_on) FROM (
              SELECT i.due_on, sum(i.amount_minor) OVER (ORDER BY i.due_on) AS so_far
                FROM instalment i WHERE i.charge_id = c.id) r WHERE r.so_far > s.credited + s.paid) AS due_on,
           h.held_until, h.deposit_minor AS deposit
      FROM charge c CROSS JOIN LATERAL (
        SELECT (SELECT coalesce(sum(amount_minor), 0)::int FROM credit WHERE charge_id = c.id) AS credited,
               (SELECT coalesce(sum(amount_minor), 0)::int FROM allocation WHERE charge_id = c.id) AS paid) s
      LEFT JOIN LATERAL (
        SELECT b.held_until, b.deposit_minor FROM booking b
         WHERE b.charge_id = c.id AND b.cancelled_at IS NULL AND b.deposit_minor > 0 AND s.paid = 0
           AND NOT EXISTS (SELECT 1 FROM session e, studio home WHERE e.course_id = b.course_id AND e.cancelled_at IS NULL
                            AND (e.starts_at AT TIME ZONE home.time_zone)::date <= ${today}::date)) h ON true
     WHERE ${condition} ORDER BY due_on, c.id`;
  return rows.map((row) => ({
    chargeId: row.id,
    personId: row.person_id,
    kind: row.kind,
    description: row.description,
    grossMinor: row.gross,
    creditedMinor: row.credited,
    paidMinor: row.paid,
    owedMinor: row.gross - row.credited - row.paid,
    dueMinor: row.due,
    dueOn: row.due_on === null ? null : fromDate(row.due_on),
    hold: row.held_until && { until: row.held_until, depositMinor: row.deposit ?? 0 },
  }));
}

const ids = (list: readonly string[]) => Prisma.join(list.map((id) => Prisma.sql`${id}::uuid`));
