import { useCallback, useState } from 'preact/hooks';
import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { useQuery } from '../api/query';
import { type Formatter, listed } from '../format/formatter';
import { type Column, DataTable } from '../ui/data-table';
import { DialogButton } from '../ui/dialog';
import { LookedUp } from '../ui/looked-up';
import { BookingForm } from './book-place';
import { AddBookingNote, type BookingNote, listBookingNotes } from './booking-notes';
import { CancelBooking } from './cancel-booking';
import { ChangeName } from './change-name';
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
  | { is: 'cancelling' | 'moving' | 'renaming' | 'noting'; booking: Booking }
  | { is: 'accepting'; entry: WaitingEntry }
  | { is: 'removing'; entry: WaitingEntry }
  | { is: 'offering' };

function Bookings({ course, today, formatter, onClose }: ListProps) {
  const { courseId } = course;
  const [deed, setDeed] = useState<Deed | null>(null);
  const read = useCallback(
    async (signal: AbortSignal) => {
      const [bookings, notes] = await Promise.all([listBookings(courseId, signal), listBookingNotes(courseId, signal)]);
      return { bookings, notes };
    },
    [courseId],
  );
  const query = useQuery({ key: ['bookings', courseId], read, fresh: true });
  if (deed) return <Doing {...{ deed, course, today, formatter, onClose }} onBack={() => setDeed(null)} />;
  return (
    <>
      <LookedUp what="the bookings" query={query}>
        {({ bookings, notes }) => (
          <Open
            bookings={bookings.filter(({ state }) => state !== 'cancelled')}
            notes={notes}
            formatter={formatter}
            onDeed={(is, booking) => setDeed({ is, booking })}
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
      {deed.is === 'moving' && <MoveBooking booking={deed.booking} {...{ formatter, onClose }} />}
      {deed.is === 'cancelling' && <CancelBooking booking={deed.booking} {...{ today, formatter, onClose }} />}
      {deed.is === 'renaming' && <ChangeName booking={deed.booking} onClose={onClose} />}
      {deed.is === 'noting' && <AddBookingNote bookingId={deed.booking.id} onNoted={onBack} onCancel={onBack} />}
    </>
  );
}

type OfBooking = Extract<Deed, { booking: Booking }>['is'];
type OpenProps = {
  bookings: readonly Booking[];
  notes: readonly BookingNote[];
  formatter: Formatter;
  onDeed(is: OfBooking, booking: Booking): void;
};

function Open({ bookings, notes, formatter, onDeed }: OpenProps) {
  if (bookings.length === 0) return <p>Nobody has booked.</p>;
  const { money } = formatter;
  const columns: Column<Booking>[] = [
    {
      head: 'Who',
      cell: ({ id, attendees }) => (
        <>
          {listed(attendees.map(({ name }) => name))}
          {notes
            .filter(({ bookingId }) => bookingId === id)
            .map(({ id, note, by }) => (
              <div key={id}>
                <small>
                  {note} <span class="quiet">({by})</span>
                </small>
              </div>
            ))}
        </>
      ),
    },
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
          {actsOf(booking).map(([is, label, heard]) => (
            <button key={is} type="button" class="quiet" aria-label={heard} onClick={() => onDeed(is, booking)}>
              {label}
            </button>
          ))}
        </span>
      ),
    },
  ];
  return <DataTable caption="Bookings" {...{ columns }} rows={bookings} keyOf={({ id }) => id} />;
}

/** What can be done with a booking: which it is, what the button says, and what is heard of it. */
const actsOf = ({ payerName, attendees }: Booking): [OfBooking, string, string][] => {
  const several = attendees.length > 1;
  return [
    ['renaming', several ? 'Change a name' : 'Change the name', `Change a name on ${payerName}’s booking`],
    ['noting', 'Add a note', `Add a note to ${payerName}’s booking`],
    ['moving', 'Move', `Move ${payerName}’s booking`],
    [
      'cancelling',
      several ? 'Cancel places' : 'Cancel booking',
      `Cancel ${payerName}’s ${several ? 'places' : 'booking'}`,
    ],
  ];
};

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
