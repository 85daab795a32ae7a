import { inOrder } from '../../../database/find-page.js';
import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { fromDate } from '../../../database/values.js';
import { CreditNoteContent } from '../../../documents/credit-note-content.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { voucherCodeInWords } from '../../../trade/text/voucher-code.js';
import { momentsOf } from '../../settings/days.js';
import { getStudio } from '../../settings/service.js';
import type { ChargeQuery, ListedCharge, ListedPayment, Paper, PaperQuery, PaymentQuery } from '../list-contract.js';
import { numbered } from '../payments/receipts.js';
import { getChargeStates } from '../queries.js';
import { separateHold } from '../reports.js';
import { findCharges, findPapers, findPayments } from './queries.js';

const NAMED = { select: { id: true, name: true } } as const;

const WITH_SUBJECT = {
  receipt: { include: { payment: { include: { person: NAMED } } } },
  creditNote: {
    include: {
      credit: { include: { charge: { include: { person: NAMED } } } },
      reversal: { include: { payment: { include: { person: NAMED } } } },
    },
  },
  voucher: { include: { buyer: NAMED } },
  extension: { include: { voucher: { include: { buyer: NAMED } } } },
  notices: { include: { person: NAMED }, orderBy: { id: 'asc' }, take: 1 },
  orderEvent: { include: { order: { include: { supplier: { select: { name: true } } } } } },
} as const satisfies Prisma.DocumentInclude;
type PaperRow = Prisma.DocumentGetPayload<{ include: typeof WITH_SUBJECT }>;

/** Every paper that was issued, the latest first. */
export async function listPapers(tx: Transaction, query: PaperQuery) {
  const { ids, ...found } = await findPapers(tx, query, await momentsOf(tx, query));
  const rows = await tx.document.findMany({ where: { id: { in: ids } }, include: WITH_SUBJECT });
  const { timeZone } = await getStudio(tx);
  const items = inOrder(ids, rows).map((row): Paper => {
    const { id, kind, fileName, createdAt } = row;
    return { documentId: id, kind, fileName, issuedOn: localDay(createdAt, timeZone), ...subjectOf(row) };
  });
  return { items, ...found };
}

function subjectOf(row: PaperRow): Pick<Paper, 'number' | 'personId' | 'name' | 'amountMinor'> {
  const { receipt, creditNote, extension, notices, orderEvent } = row;
  const voucher = row.voucher ?? extension?.voucher;
  const of = (person: { id: string; name: string } | undefined, number: string | null, amountMinor: number | null) => ({
    ...{ number, personId: person?.id ?? null, name: person?.name ?? '', amountMinor },
  });
  if (receipt) return of(receipt.payment.person, numbered('R', receipt.number), receipt.payment.amountMinor);
  if (creditNote) {
    const { totalMinor } = CreditNoteContent.parse(row.content);
    const { credit, reversal } = creditNote;
    return of(credit?.charge.person ?? reversal?.payment.person, numbered('C', creditNote.number), totalMinor);
  }
  if (voucher) return of(voucher.buyer, voucherCodeInWords(voucher.code), voucher.amountMinor);
  if (!orderEvent) return of(notices[0]?.person, null, null);
  const { number, supplier } = orderEvent.order;
  return { number: String(number), personId: null, name: supplier.name, amountMinor: null };
}

/** Payments and what was paid back, the latest first, each with what it was for. */
export async function listPayments(tx: Transaction, query: PaymentQuery) {
  const { ids, ...found } = await findPayments(tx, query);
  const rows = await tx.payment.findMany({
    where: { id: { in: ids } },
    include: {
      ...{ person: NAMED, receipt: true, entry: { include: { voucherMove: { include: { voucher: true } } } } },
      ...{ reversedBy: { include: { creditNote: true, reversal: true } }, reverses: true },
      allocations: { include: { charge: { select: { description: true } } }, orderBy: { chargeId: 'asc' } },
    },
  });
  const items = inOrder(ids, rows).map(({ person, receipt, entry, allocations, ...row }): ListedPayment => {
    const code = entry.voucherMove?.voucher.code;
    return {
      ...{ id: row.id, personId: person.id, personName: person.name, amountMinor: row.amountMinor, method: row.method },
      receivedOn: fromDate(row.receivedOn),
      receiptNumber: receipt && numbered('R', receipt.number),
      documentId: receipt?.documentId ?? null,
      voucherCode: code === undefined ? null : voucherCodeInWords(code),
      reversal: reversalOf(row.reversedBy),
      reversesId: row.reverses?.paymentId ?? null,
      for: allocations.map(({ chargeId, charge, amountMinor }) => ({
        ...{ chargeId, description: charge.description, amountMinor },
      })),
    };
  });
  return { items, ...found };
}

type ReversedBy = Prisma.PaymentReversalGetPayload<{ include: { creditNote: true; reversal: true } }>;

function reversalOf(by: ReversedBy | null): ListedPayment['reversal'] {
  if (!by?.creditNote) return null;
  const { reason, reversal, creditNote } = by;
  const { number, documentId } = creditNote;
  return { reason, on: fromDate(reversal.receivedOn), creditNoteNumber: numbered('C', number), documentId };
}

/** What people were asked for, the latest first, each with what was paid of it. */
export async function listCharges(tx: Transaction, query: ChargeQuery) {
  const { ids, ...found } = await findCharges(tx, query);
  const rows = await tx.charge.findMany({
    where: { id: { in: ids } },
    include: { person: NAMED, booking: true, firingCharge: true, sale: true },
  });
  const states = await getChargeStates(tx, ids);
  const items = inOrder(ids, rows).flatMap((row): ListedCharge[] => {
    const state = states.get(row.id); // never missing: it is the same row
    if (!state) return [];
    const { person, booking, firingCharge, sale, chargedOn } = row;
    return [
      {
        ...separateHold(state),
        ...{ personName: person.name, chargedOn: fromDate(chargedOn) },
        ...{ bookingId: booking?.id ?? null, courseId: booking?.courseId ?? null },
        ...{ firingId: firingCharge?.firingId ?? null, saleId: sale?.id ?? null },
      },
    ];
  });
  return { items, ...found };
}
