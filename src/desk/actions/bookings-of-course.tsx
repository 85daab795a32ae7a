import { useCallback, useState } from 'preact/hooks';
import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas, signInFirst } from '../api/client';
import { useQuery } from '../api/query';
import { type Formatter, listed } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { type Column, DataTable } from '../ui/data-table';
import { DialogButton } from '../ui/dialog';
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
  const read = useCallback(() => listBookings(courseId), [courseId]);
  const { data: bookings, error } = useQuery({ key: ['bookings', courseId], read, fresh: true });
  if (cancelling)
    return (
      <>
        <p>
          {cancelling.payerName}, {placesOf(cancelling)}.
        </p>
        <CancelBooking booking={cancelling} {...{ today, formatter, onClose }} />
      </>
    );
  if (error && signInFirst(error)) return null;
  if (error) return <ErrorMessage>{error.message}</ErrorMessage>;
  if (!bookings) return <p aria-busy="true">Looking up the bookings…</p>;
  const open = bookings.filter(({ state }) => state !== 'cancelled');
  if (open.length === 0) return <p>Nobody has booked.</p>;
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
          aria-label={`Cancel ${booking.payerName}’s booking`}
          onClick={() => setCancelling(booking)}
        >
          Cancel booking
        </button>
      ),
    },
  ];
  return <DataTable caption="Bookings" {...{ columns }} rows={open} keyOf={({ id }) => id} />;
}

const placesOf = ({ attendees }: Booking) => (attendees.length === 1 ? 'one place' : `${attendees.length} places`);

const listBookings = (courseId: string): Promise<Booking[]> =>
  fetchAllPages('who has booked', (query) =>
    api.GET('/api/courses/{courseId}/bookings', { params: { path: { courseId }, query } }),
  );
