import { useCallback, useState } from 'preact/hooks';
import { api, Refused, type Schemas } from '../api/client';
import { useQuery } from '../api/query';
import { count, type Formatter } from '../format/formatter';
import { Field } from '../forms/field';
import { DialogButton } from '../ui/dialog';
import { LookedUp } from '../ui/looked-up';
import { toast } from '../ui/toast';
import { PreviewedAction } from './previewed-action';

type MakeUp = Schemas['MakeUp'];
type Wish = Schemas['NewMakeUpInput'];
type Attendee = { personId: string; name: string };
type Times = { startsAt: string };
type Session = Times & { id: string };

/** "Tuesday 21 April at 19:00" */
const whenOf = ({ startsAt }: Times, { longDay, dayOf, time }: Formatter) =>
  `${longDay(dayOf(startsAt))} at ${time(startsAt)}`;

type Missing = { bookingId: string; person: Attendee; session: Session; formatter: Formatter };

/** On the register: somebody misses this session, and makes it up in another course. */
export function MakeUpElsewhere({ person, ...missing }: Missing) {
  return (
    <DialogButton label="Make up elsewhere" about={`for ${person.name}`} title={`Where ${person.name} makes it up`}>
      {(close) => <Where person={person} {...missing} onClose={close} />}
    </DialogButton>
  );
}

type BookingProps = {
  booking: { id: string; courseId: string; attendees: readonly Attendee[] };
  about: string;
  formatter: Formatter;
};

/** Where a booking is listed: who misses which session is chosen first. */
export function MakeUpSession({ booking, about, formatter }: BookingProps) {
  return (
    <DialogButton label="Make up a session" about={about} title={`Make up a session of ${about}`}>
      {(close) => <Which booking={booking} formatter={formatter} onClose={close} />}
    </DialogButton>
  );
}

function Which({ booking, formatter, onClose }: Omit<BookingProps, 'about'> & { onClose(): void }) {
  const { courseId } = booking;
  const [personId, setPersonId] = useState(booking.attendees[0]?.personId ?? '');
  const [sessionId, setSessionId] = useState('');
  const read = useCallback(
    async (signal: AbortSignal) => {
      const { data } = await api.GET('/api/courses/{courseId}/dates', { params: { path: { courseId } }, signal });
      if (!data) throw new Refused('unknown', 'The sessions could not be loaded. Close this and open it again.');
      return [...data.sessions, ...data.cancelledSessions].sort((a, b) => (a.startsAt < b.startsAt ? -1 : 1));
    },
    [courseId],
  );
  const query = useQuery({ key: ['sessions', courseId], read, fresh: true });
  const person = booking.attendees.find((one) => one.personId === personId);
  return (
    <LookedUp what="the sessions" query={query}>
      {(sessions) => {
        const session = sessions.find(({ id }) => id === sessionId);
        return (
          <>
            {booking.attendees.length > 1 && (
              <Field
                label="Who misses it"
                choices={booking.attendees.map((one) => [one.personId, one.name] as const)}
                value={personId}
                onChange={setPersonId}
              />
            )}
            <Field
              label="Session that they miss"
              choices={[
                ['', 'Choose a session'],
                ...sessions.map(
                  (one) =>
                    [one.id, `${whenOf(one, formatter)}${one.cancelledBecause === null ? '' : ', cancelled'}`] as const,
                ),
              ]}
              value={sessionId}
              onChange={setSessionId}
            />
            {session && person && (
              <Where key={session.id} bookingId={booking.id} {...{ person, session, formatter, onClose }} />
            )}
          </>
        );
      }}
    </LookedUp>
  );
}

/** The like sessions with a place left; the letter is seen before it is done. */
function Where({ bookingId, person, session, formatter, onClose }: Missing & { onClose(): void }) {
  const [sessionId, setSessionId] = useState('');
  const read = useCallback(
    async (signal: AbortSignal) => {
      const params = { path: { sessionId: session.id } };
      const { data } = await api.GET('/api/sessions/{sessionId}/make-up-places', { params, signal });
      if (!data) throw new Refused('unknown', 'The other courses could not be loaded. Close this and open it again.');
      return data;
    },
    [session.id],
  );
  const query = useQuery({ key: ['make-up places', session.id], read, fresh: true });
  const wish = sessionId === '' ? null : { personId: person.personId, missedSessionId: session.id, sessionId };
  return (
    <LookedUp what="the other courses" query={query}>
      {({ items, hasMore }) =>
        items.length === 0 ? (
          <p>No session of another course that is like this one has a place left.</p>
        ) : (
          <>
            <Field
              label={`Instead of ${whenOf(session, formatter)}`}
              choices={[
                ['', 'Choose a session'],
                ...items.map((item) => [item.sessionId, placeCalled(item, formatter)] as const),
              ]}
              value={sessionId}
              onChange={setSessionId}
            />
            {hasMore && <p class="quiet">These are the next {items.length}; later ones are not listed.</p>}
            <Made {...{ bookingId, person, wish, formatter, onClose }} />
          </>
        )
      }
    </LookedUp>
  );
}

const placeCalled = (place: Schemas['MakeUpPlace'], formatter: Formatter) =>
  `${whenOf(place, formatter)}, ${place.courseTitle}, ${count(place.placesLeft, 'place')} left`;

type MadeProps = Pick<Missing, 'bookingId' | 'person' | 'formatter'> & { wish: Wish | null; onClose(): void };

function Made({ bookingId, person, wish, formatter, onClose }: MadeProps) {
  const params = { path: { bookingId } };
  return (
    <PreviewedAction<Wish, MakeUp>
      name={`make up ${bookingId}`}
      wish={wish}
      ask={(body, signal) => api.POST('/api/bookings/{bookingId}/make-ups/preview', { params, body, signal })}
      send={(body, headers) => api.POST('/api/bookings/{bookingId}/make-ups', { params, body, headers })}
      save={() => 'Make it up there'}
      onDone={({ there }) => {
        onClose();
        toast(
          <span>
            {person.name} makes it up on {whenOf(there, formatter)}, in {there.courseTitle}.
          </span>,
        );
      }}
      onCancel={onClose}
    >
      {({ there }) => (
        <p>
          {person.name} takes one place on {whenOf(there, formatter)} in <b>{there.courseTitle}</b>, and pays nothing
          more.
        </p>
      )}
    </PreviewedAction>
  );
}

/** Takes it off again, with the letter that says so seen first. */
export function RemoveMakeUp({ makeUp, formatter }: { makeUp: MakeUp; formatter: Formatter }) {
  const { id, name, there } = makeUp;
  const params = { path: { makeUpId: id } };
  return (
    <DialogButton label="Take off" about={`the make-up of ${name}`} title={`Take off the make-up of ${name}`}>
      {(close) => (
        <PreviewedAction<Record<string, never>, MakeUp>
          name={`take off ${id}`}
          wish={{}}
          ask={(body, signal) => api.POST('/api/make-ups/{makeUpId}/removal/preview', { params, body, signal })}
          send={(body, headers) => api.POST('/api/make-ups/{makeUpId}/removal', { params, body, headers })}
          save={() => 'Take it off'}
          onDone={() => {
            close();
            toast(<span>{name} no longer makes it up there.</span>);
          }}
          onCancel={close}
        >
          {() => (
            <p>
              {name}’s place on {whenOf(there, formatter)} in {there.courseTitle} is free again.
            </p>
          )}
        </PreviewedAction>
      )}
    </DialogButton>
  );
}

/** "Makes up Two mugs of Tuesday 14 April at 19:00", and where somebody makes it up. */
export const missedIn = ({ missed }: MakeUp, formatter: Formatter) =>
  `Makes up ${missed.courseTitle} of ${whenOf(missed, formatter)}`;
export const madeUpIn = ({ there }: MakeUp, formatter: Formatter) =>
  `Makes it up on ${whenOf(there, formatter)}, in ${there.courseTitle}`;
