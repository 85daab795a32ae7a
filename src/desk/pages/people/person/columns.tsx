import { CancelBookingButton } from '../../../actions/cancel-booking';
import { MakeUpSession } from '../../../actions/make-up';
import { MoveBookingButton } from '../../../actions/move-booking';
import { UndoPayment } from '../../../actions/undo-payment';
import { capital, type Formatter } from '../../../format/formatter';
import { stageCalled } from '../../../format/piece';
import type { Column } from '../../../ui/data-table';
import { paidHow, stateOf } from './labels';
import type { Booking, Charge, Payment, Piece } from './queries';

export const chargeColumns = ({ money, date }: Formatter): Column<Charge>[] => [
  { head: 'For', cell: ({ description }) => description },
  { head: 'Charged', cell: ({ chargedOn }) => date(chargedOn) },
  { head: 'Due', cell: ({ dueOn, hold }) => (hold ? 'held, not owed yet' : dueOn && date(dueOn)) },
  { head: 'Paid', figures: true, cell: ({ paidMinor }) => money(paidMinor) },
  { head: 'Open', figures: true, cell: ({ owedMinor }) => money(owedMinor) },
];

type Acting = { personId: string; today: string; mayCancel: boolean };

export const bookingColumns = (formatter: Formatter, { personId, ...acting }: Acting): Column<Booking>[] => [
  { head: 'Course', cell: ({ courseTitle }) => courseTitle },
  { head: 'Begins', cell: ({ courseStartsAt }) => formatter.date(formatter.dayOf(courseStartsAt)) },
  { head: 'Places', cell: ({ attendees }) => attendees.length },
  {
    head: 'Paid by',
    cell: ({ payerId, payerName }) => (payerId === personId ? 'them' : <a href={`/people/${payerId}`}>{payerName}</a>),
  },
  { head: 'State', cell: (booking) => capital(stateOf(booking)) },
  { head: 'Price', figures: true, cell: ({ priceMinor }) => formatter.money(priceMinor) },
  ...(acting.mayCancel ? [cancelColumn(formatter, acting.today)] : []),
];

const cancelColumn = (formatter: Formatter, today: string): Column<Booking> => ({
  head: '',
  cell: (booking) =>
    booking.state !== 'cancelled' && (
      <span class="acts">
        <MakeUpSession {...{ booking, formatter }} about={booking.courseTitle} />
        <MoveBookingButton {...{ booking, formatter }} about={booking.courseTitle} />
        <CancelBookingButton {...{ booking, today, formatter }} about={booking.courseTitle} />
      </span>
    ),
});

/** What was paid and paid back; a payment that was entered by mistake can be undone. */
export const paymentColumns = (formatter: Formatter, mayUndo: boolean): Column<Payment>[] => [
  { head: 'Received', cell: ({ receivedOn }) => formatter.date(receivedOn) },
  { head: 'How', cell: paidHow },
  {
    head: 'Paper',
    cell: ({ documentId, receiptNumber }) =>
      documentId && (
        <a href={`/api/documents/${documentId}/pdf`} target="_blank" rel="noopener">
          {receiptNumber ? `Receipt ${receiptNumber}` : 'Paper'}
        </a>
      ),
  },
  { head: 'Amount', figures: true, cell: ({ amountMinor }) => formatter.money(amountMinor) },
  {
    head: '',
    cell: ({ id, amountMinor, method, reversal, receivedOn }) =>
      reversal ? (
        <span class="quiet">undone: {reversal.reason}</span>
      ) : (
        mayUndo &&
        amountMinor > 0 &&
        method !== 'carried' && (
          <UndoPayment paymentId={id} about={`payment of ${formatter.date(receivedOn)}`} formatter={formatter} />
        )
      ),
  },
];

export const pieceColumns = ({ date, dayOf }: Formatter): Column<Piece>[] => [
  { head: 'Code', cell: ({ id, code }) => <a href={`/ware/${id}`}>{code}</a> },
  { head: 'Piece', cell: ({ description }) => description },
  { head: 'Stage', cell: ({ stage }) => capital(stageCalled(stage)) },
  { head: 'Where', cell: ({ boardName }) => boardName },
  { head: 'Since', cell: ({ notedAt }) => date(dayOf(notedAt)) },
];
