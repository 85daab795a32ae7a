import { BookPlace } from '../../actions/book-place';
import { BookingsOfCourse } from '../../actions/bookings-of-course';
import { WaitForPlace } from '../../actions/waiting-list-add';
import { type Formatter, listed } from '../../format/formatter';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import type { Session, Today } from './labels';

type Props = { today: Today; formatter: Formatter; maySell: boolean };

/** Who is taught what, and who comes; without a session today, the next day that has one. */
export function Sessions({ today, formatter, maySell }: Props) {
  const { sessions, nextSessionsOn, day } = today;
  const narrow = useNarrow();
  if (sessions.length === 0) return null;
  return (
    <Disclosure
      id="sessions"
      open={!narrow}
      title={nextSessionsOn ? 'Next class' : 'Today’s classes'}
      note={nextSessionsOn ? formatter.longDay(nextSessionsOn) : sessions.map(({ title }) => title).join(', ')}
    >
      {sessions.map((session) => (
        <Taught key={session.sessionId} {...{ session, day, formatter, maySell }} />
      ))}
    </Disclosure>
  );
}

type TaughtProps = Omit<Props, 'today'> & { session: Session; day: string };

function Taught({ session, day, formatter, maySell }: TaughtProps) {
  const { sessionId, courseId, title, startsAt, endsAt, room, tutors, booked, places, coming, hazards } = session;
  return (
    <article class="session">
      <h3>
        <a href={`/courses/${courseId}`}>{title}</a>{' '}
        <span>
          {formatter.time(startsAt)} to {formatter.time(endsAt)}, {room}
          {tutors.length > 0 && `, with ${listed(tutors)}`}
        </span>
      </h3>
      <p class="places">
        {booked} of {places} places taken.
      </p>
      {coming.length > 0 && (
        <ul class="coming" aria-label={`Who comes to ${title}`}>
          {coming.map(({ personId, name, provisional, makesUp }) => (
            <li key={personId}>
              <a href={`/people/${personId}`}>{name}</a>
              {provisional && <span class="amber"> (place not yet confirmed)</span>}
              {makesUp && <span> (makes up a session of {makesUp})</span>}
            </li>
          ))}
        </ul>
      )}
      <p class="acts">
        <a href={`/courses/${courseId}/register?session=${sessionId}`} aria-label={`Register of ${title}`}>
          Register
        </a>
        {maySell && booked < places && <BookPlace course={{ courseId, title }} formatter={formatter} />}
        {maySell && booked >= places && <WaitForPlace course={{ courseId, title }} />}
        {maySell && <BookingsOfCourse course={{ courseId, title }} today={day} formatter={formatter} />}
      </p>
      {hazards.map((hazard) => (
        <p key={hazard} class="caution">
          {hazard}
        </p>
      ))}
    </article>
  );
}
