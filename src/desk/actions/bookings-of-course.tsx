import { useCallback, useState } from 'preact/hooks';
import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { useQuery } from '../api/query';
import { type Formatter, listed } from '../format/formatter';
import { type Column, DataTable } from '../ui/data-table';
import { DialogButton } from '../ui/dialog';
import { LookedUp } from '../ui/looked-up';
import { BookingForm } from './book-place';
import { CancelBooking } from './cancel-booking';
import { MoveBooking } from './move-booking';
import { type WaitingEntry, WaitingListOfCourse } from './waiting-list';
import { OfferForm, RemoveForm } from './waiting-list-offers';

type Booking = Schemas['Booking'];
type Course = { courseId: string; title: string };
type Props = { course: Course; today: string; formatter: Formatter };

/** The bookings of a course, each with what is paid, and who waits: places are cancelled and offered from here. */
export function BookingsOfCourse({ course, today, formatter }: Props) {
  return (
    <DialogButton label="Bookings" about={`on ${course.title}`} title={`Bookings on ${course.title}`}>
      {(close) => <Bookings {...{ course, today, formatter }} onClose={close} />}
    </DialogButton>
  );
}

type ListProps = Props & { onClose(): void };
/** What is done from the list, in its place. */
type Deed =
  | { is: 'cancelling' | 'moving'; booking: Booking }
  | { is: 'accepting'; entry: WaitingEntry }
  | { is: 'removing'; entry: WaitingEntry }
  | { is: 'offering' };

function Bookings({ course, today, formatter, onClose }: ListProps) {
  const { courseId } = course;
  const [deed, setDeed] = useState<Deed | null>(null);
  const read = useCallback((signal: AbortSignal) => listBookings(courseId, signal), [courseId]);
  const query = useQuery({ key: ['bookings', courseId], read, fresh: true });
  if (deed) return <Doing {...{ deed, course, today, formatter, onClose }} onBack={() => setDeed(null)} />;
  return (
    <>
      <LookedUp what="the bookings" query={query}>
        {(bookings) => (
          <Open
            bookings={bookings.filter(({ state }) => state !== 'cancelled')}
            formatter={formatter}
            onCancelling={(booking) => setDeed({ is: 'cancelling', booking })}
            onMoving={(booking) => setDeed({ is: 'moving', booking })}
          />
        )}
      </LookedUp>
      <WaitingListOfCourse
        {...{ courseId, formatter }}
        onOffer={() => setDeed({ is: 'offering' })}
        onAccept={(entry) => setDeed({ is: 'accepting', entry })}
        onRemove={(entry) => setDeed({ is: 'removing', entry })}
      />
    </>
  );
}

function Doing({ deed, course, today, formatter, onClose, onBack }: ListProps & { deed: Deed; onBack(): void }) {
  if (deed.is === 'offering') return <OfferForm courseId={course.courseId} formatter={formatter} onClose={onBack} />;
  if (deed.is === 'removing') return <RemoveForm entry={deed.entry} formatter={formatter} onClose={onBack} />;
  if (deed.is === 'accepting') {
    const { id: entryId, personId, personName, places } = deed.entry;
    const offer = { entryId, person: { id: personId, name: personName }, places };
    return <BookingForm {...{ course, formatter, offer, onClose }} />;
  }
  return (
    <>
      <p>
        {deed.booking.payerName}, {placesOf(deed.booking)}.
      </p>
      {deed.is === 'moving' ? (
        <MoveBooking booking={deed.booking} {...{ formatter, onClose }} />
      ) : (
        <CancelBooking booking={deed.booking} {...{ today, formatter, onClose }} />
      )}
    </>
  );
}

type OpenProps = {
  bookings: readonly Booking[];
  formatter: Formatter;
  onCancelling(booking: Booking): void;
  onMoving(booking: Booking): void;
};

function Open({ bookings, formatter, onCancelling, onMoving }: OpenProps) {
  if (bookings.length === 0) return <p>Nobody has booked.</p>;
  const { money } = formatter;
  const columns: Column<Booking>[] = [
    { head: 'Who', cell: ({ attendees }) => listed(attendees.map(({ name }) => name)) },
    {
      head: 'Paid by',
      cell: ({ payerId, payerName }) => <a href={`/people/${payerId}`}>{payerName}</a>,
    },
    { head: 'State', cell: ({ state }) => (state === 'provisional' ? <span class="amber">Held</span> : 'Confirmed') },
    ...(bookings.some(({ cancelledPlaces }) => cancelledPlaces.length > 0) ? [cancelledColumn(formatter)] : []),
    { head: 'Paid', figures: true, cell: ({ paidMinor }) => money(paidMinor) },
    { head: 'Owed', figures: true, cell: ({ owedMinor }) => money(owedMinor) },
    {
      head: '',
      cell: (booking) => (
        <span class="acts">
          <button
            type="button"
            class="quiet"
            aria-label={`Move ${booking.payerName}’s booking`}
            onClick={() => onMoving(booking)}
          >
            Move
          </button>
          <button
            type="button"
            class="quiet"
            aria-label={`Cancel ${booking.payerName}’s ${booking.attendees.length > 1 ? 'places' : 'booking'}`}
            onClick={() => onCancelling(booking)}
          >
            {booking.attendees.length > 1 ? 'Cancel places' : 'Cancel booking'}
          </button>
        </span>
      ),
    },
  ];
  return <DataTable caption="Bookings" {...{ columns }} rows={bookings} keyOf={({ id }) => id} />;
}

/** Places that were cancelled while others of their booking stay. */
const cancelledColumn = ({ date, dayOf }: Formatter): Column<Booking> => ({
  head: 'Cancelled',
  cell: ({ cancelledPlaces }) =>
    cancelledPlaces.map(({ personId, name, cancelledAt, because }) => (
      <div key={`${personId} ${cancelledAt}`}>
        {name}, {date(dayOf(cancelledAt))} <small>{because}</small>
      </div>
    )),
});

const placesOf = ({ attendees }: Booking) => (attendees.length === 1 ? 'one place' : `${attendees.length} places`);

const listBookings = (courseId: string, signal: AbortSignal): Promise<Booking[]> =>
  fetchAllPages('who has booked', (query) =>
    api.GET('/api/courses/{courseId}/bookings', { params: { path: { courseId }, query }, signal }),
  );
