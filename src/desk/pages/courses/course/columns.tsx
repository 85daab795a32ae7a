import { CancelBookingButton } from '../../../actions/cancel-booking';
import { MakeUpSession } from '../../../actions/make-up';
import { MoveBookingButton } from '../../../actions/move-booking';
import { NameGuests } from '../../../actions/name-guests';
import { TakePayment } from '../../../actions/take-payment';
import type { Me } from '../../../api/use-me';
import { capital, type Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import type { Column } from '../../../ui/data-table';
import type { Course } from '../labels';
import { CancelSession } from './cancel-session';
import { attendeesOf, bookingState, type Session, timesOf, tutorsOf, type Use } from './labels';
import { MoveSession } from './move-session';
import type { Attendee, Booking, Change } from './queries';

export const sessionColumns = (
  course: Course,
  { rights, studio, today }: Me,
  formatter: Formatter,
): Column<Session>[] => [
  {
    head: 'When',
    cell: (session) =>
      session.cancelledBecause === null ? (
        timesOf(session, formatter)
      ) : (
        <>
          <s>{timesOf(session, formatter)}</s> <small>Cancelled: {session.cancelledBecause}</small>
        </>
      ),
  },
  { head: 'Room', cell: ({ roomName }) => roomName },
  { head: 'Tutors', cell: tutorsOf },
  {
    head: '',
    cell: ({ id, ordinal, cancelledBecause }) =>
      cancelledBecause === null && (
        <a href={`/courses/${course.id}/register?session=${id}`} aria-label={`Register of session ${ordinal}`}>
          Register
        </a>
      ),
  },
  {
    head: 'Change',
    headHeard: true,
    cell: (session) =>
      studio &&
      rights.includes('courses:write') &&
      session.cancelledBecause === null &&
      formatter.dayOf(session.startsAt) >= today && (
        <span class="acts">
          <MoveSession {...{ course, session, formatter }} timeZone={studio.timeZone} />
          {rights.includes('money:write') && course.sessions.length > 1 && (
            <CancelSession {...{ course, session, formatter }} />
          )}
        </span>
      ),
  },
];

const payer: Column<Booking> = {
  head: 'Paid by',
  cell: ({ payerId, payerName }) => <a href={`/people/${payerId}`}>{payerName}</a>,
};

export const bookingColumns = (
  title: string,
  { rights, today }: Pick<Me, 'rights' | 'today'>,
  formatter: Formatter,
): Column<Booking>[] => [
  {
    head: 'Who',
    cell: (booking) => (
      <>
        {attendeesOf(booking)}{' '}
        {booking.unnamed > 0 && rights.includes('money:write') && (
          <NameGuests group={{ bookingId: booking.id, bookedBy: booking.payerName, unnamed: booking.unnamed }} />
        )}
      </>
    ),
  },
  payer,
  {
    head: 'State',
    cell: (booking) => (
      <span class={booking.state === 'provisional' ? 'amber' : undefined}>{bookingState(booking, formatter)}</span>
    ),
  },
  { head: 'Paid', figures: true, cell: ({ paidMinor }) => formatter.money(paidMinor) },
  {
    head: 'Owed',
    figures: true,
    cell: ({ owedMinor }) => formatter.money(owedMinor),
    toneOf: ({ owedMinor }) => (owedMinor === 0 ? 'none' : undefined),
  },
  ...(rights.includes('money:write') ? [actColumn(title, today, formatter)] : []),
];

const actColumn = (title: string, today: string, formatter: Formatter): Column<Booking> => ({
  head: 'What to do',
  headHeard: true,
  cell: (booking) => (
    <span class="acts">
      {booking.owedMinor > 0 && (
        <TakePayment person={{ personId: booking.payerId, name: booking.payerName }} formatter={formatter} />
      )}
      <MakeUpSession {...{ booking, formatter }} about={`${title} of ${booking.payerName}`} />
      <MoveBookingButton {...{ booking, formatter }} about={`${title} of ${booking.payerName}`} />
      <CancelBookingButton {...{ booking, today, formatter }} about={`${title} of ${booking.payerName}`} />
    </span>
  ),
});

export const cancelledColumns = ({ date, dayOf }: Formatter): Column<Booking>[] => [
  { head: 'Who', cell: attendeesOf },
  payer,
  { head: 'When', cell: ({ cancelledAt }) => cancelledAt && date(dayOf(cancelledAt)) },
  { head: 'Why', cell: ({ cancelledBecause }) => cancelledBecause && capital(cancelledBecause) },
];

export const attendeeColumns: Column<Attendee>[] = [
  { head: 'Who', cell: ({ personId, name }) => <a href={`/people/${personId}`}>{name}</a> },
  { head: 'Booked by', cell: ({ bookedBy }) => bookedBy },
];

export const changeColumns = ({ date, dayOf, time }: Formatter): Column<Change>[] => [
  { head: 'What', cell: ({ what }) => what },
  { head: 'When', cell: ({ at }) => `${date(dayOf(at))}, ${time(at)}` },
  { head: 'By', cell: ({ madeBy }) => madeBy },
];

export const useColumns = (formatter: Formatter): Column<Use>[] => [
  {
    head: 'Material',
    cell: ({ materialId, materialName }) => <a href={`/shelf/materials/${materialId}`}>{materialName}</a>,
  },
  { head: 'Used', figures: true, cell: ({ quantity, unit }) => formatQuantity(quantity, unit, formatter) },
];
