import { stageCalled } from '../../../charts/piece';
import { capital, type Formatter } from '../../../format/formatter';
import type { Column } from '../../../ui/data-table';
import { stateOf } from './labels';
import type { Booking, Charge, Piece } from './queries';

export const chargeColumns = ({ money, date }: Formatter): Column<Charge>[] => [
  { head: 'For', cell: ({ description }) => description },
  { head: 'Charged', cell: ({ chargedOn }) => date(chargedOn) },
  { head: 'Due', cell: ({ dueOn, hold }) => (hold ? 'held, not owed yet' : dueOn && date(dueOn)) },
  { head: 'Paid', figures: true, cell: ({ paidMinor }) => money(paidMinor) },
  { head: 'Open', figures: true, cell: ({ owedMinor }) => money(owedMinor) },
];

export const bookingColumns = ({ money, date, dayOf }: Formatter, personId: string): Column<Booking>[] => [
  { head: 'Course', cell: ({ courseTitle }) => courseTitle },
  { head: 'Begins', cell: ({ courseStartsAt }) => date(dayOf(courseStartsAt)) },
  { head: 'Places', cell: ({ attendees }) => attendees.length },
  {
    head: 'Paid by',
    cell: ({ payerId, payerName }) => (payerId === personId ? 'them' : <a href={`/people/${payerId}`}>{payerName}</a>),
  },
  { head: 'State', cell: (booking) => capital(stateOf(booking)) },
  { head: 'Price', figures: true, cell: ({ priceMinor }) => money(priceMinor) },
];

export const pieceColumns = ({ date, dayOf }: Formatter): Column<Piece>[] => [
  { head: 'Code', cell: ({ id, code }) => <a href={`/ware/${id}`}>{code}</a> },
  { head: 'Piece', cell: ({ description }) => description },
  { head: 'Stage', cell: ({ stage }) => capital(stageCalled(stage)) },
  { head: 'Where', cell: ({ boardName }) => boardName },
  { head: 'Since', cell: ({ notedAt }) => date(dayOf(notedAt)) },
];
