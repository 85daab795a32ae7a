import { useCallback, useState } from 'preact/hooks';
import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { useQuery } from '../api/query';
import { type Formatter, listed } from '../format/formatter';
import { type Column, DataTable } from '../ui/data-table';
import { DialogButton } from '../ui/dialog';
import { LookedUp } from '../ui/looked-up';
import { CancelBooking } from './cancel-booking';

type Booking = Schemas['Booking'];
type Course = { courseId: string; title: string };
type Props = { course: Course; today: string; formatter: Formatter };

/** The bookings of a course, each with what is paid; one can be cancelled from here. */
export function BookingsOfCourse({ course, today, formatter }: Props) {
  return (
    <DialogButton label="Bookings" about={`on ${course.title}`} title={`Bookings on ${course.title}`}>
      {(close) => <Bookings courseId={course.courseId} {...{ today, formatter }} onClose={close} />}
    </DialogButton>
  );
}

type ListProps = { courseId: string; today: string; formatter: Formatter; onClose(): void };

function Bookings({ courseId, today, formatter, onClose }: ListProps) {
  const [cancelling, setCancelling] = useState<Booking | null>(null);
  const read = useCallback((signal: AbortSignal) => listBookings(courseId, signal), [courseId]);
  const query = useQuery({ key: ['bookings', courseId], read, fresh: true });
  if (cancelling)
    return (
      <>
        <p>
          {cancelling.payerName}, {placesOf(cancelling)}.
        </p>
        <CancelBooking booking={cancelling} {...{ today, formatter, onClose }} />
      </>
    );
  return (
    <LookedUp what="the bookings" query={query}>
      {(bookings) => (
        <Open
          bookings={bookings.filter(({ state }) => state !== 'cancelled')}
          formatter={formatter}
          onCancelling={setCancelling}
        />
      )}
    </LookedUp>
  );
}

type OpenProps = { bookings: readonly Booking[]; formatter: Formatter; onCancelling(booking: Booking): void };

function Open({ bookings, formatter, onCancelling }: OpenProps) {
  if (bookings.length === 0) return <p>Nobody has booked.</p>;
  const { money } = formatter;
  const columns: Column<Booking>[] = [
    { head: 'Who', cell: ({ attendees }) => listed(attendees.map(({ name }) => name)) },
    {
      head: 'Paid by',
      cell: ({ payerId, payerName }) => <a href={`/people/${payerId}`}>{payerName}</a>,
    },
    { head: 'State', cell: ({ state }) => (state === 'provisional' ? <span class="amber">Held</span> : 'Confirmed') },
    { head: 'Paid', figures: true, cell: ({ paidMinor }) => money(paidMinor) },
    { head: 'Owed', figures: true, cell: ({ owedMinor }) => money(owedMinor) },
    {
      head: '',
      cell: (booking) => (
        <button
          type="button"
          class="quiet"
          aria-label={`Cancel ${booking.payerName}’s ${booking.attendees.length > 1 ? 'places' : 'booking'}`}
          onClick={() => onCancelling(booking)}
        >
          {booking.attendees.length > 1 ? 'Cancel places' : 'Cancel booking'}
        </button>
      ),
    },
  ];
  return <DataTable caption="Bookings" {...{ columns }} rows={bookings} keyOf={({ id }) => id} />;
}

const placesOf = ({ attendees }: Booking) => (attendees.length === 1 ? 'one place' : `${attendees.length} places`);

const listBookings = (courseId: string, signal: AbortSignal): Promise<Booking[]> =>
  fetchAllPages('who has booked', (query) =>
    api.GET('/api/courses/{courseId}/bookings', { params: { path: { courseId }, query }, signal }),
  );
