import { type Formatter, listed } from '../../../format/formatter';
import { type Day, placesOf, type Session } from './days';

type Props = { of: Day; today: string; formatter: Formatter };

/** What is on a day: sessions in the order of time, then what the kilns do. */
export function DayItems({ of: { day, sessions, kilns, closed }, today, formatter }: Props) {
  return (
    <ul class="day-items">
      {closed.map((name) => (
        <li key={name} class="closed-day">
          Closed: {name}
        </li>
      ))}
      {sessions.map((session) => (
        <li key={session.id}>
          <OneSession {...{ session, formatter }} hasRegister={day <= today} isOver={day < today} />
        </li>
      ))}
      {kilns.map(({ id, what, isHot }) => (
        <li key={id} class={isHot ? 'kiln-day hot' : 'kiln-day'}>
          {what}
        </li>
      ))}
    </ul>
  );
}

type SessionProps = { session: Session; hasRegister: boolean; isOver: boolean; formatter: Formatter };

function OneSession({ session, hasRegister, isOver, formatter: { time } }: SessionProps) {
  const { id, courseId, title, ordinal, of, startsAt, endsAt, roomName, tutors, cancelledBecause } = session;
  const times = `${time(startsAt)} to ${time(endsAt)}`;
  const course = <a href={`/courses/${courseId}`}>{title}</a>;
  if (cancelledBecause !== null)
    return (
      <>
        <s>
          {times} {course}
        </s>{' '}
        <span class="quiet">cancelled</span>
      </>
    );
  return (
    <>
      <span class="times">{times}</span> <b>{course}</b>
      {of > 1 && (
        <span class="quiet">
          {' '}
          {ordinal} of {of}
        </span>
      )}
      <span class="where">
        {[roomName, ...(tutors.length > 0 ? [listed(tutors)] : []), placesOf(session, isOver)].join(', ')}
      </span>
      {hasRegister && (
        <a
          class="to-register"
          href={`/courses/${courseId}/register?session=${id}`}
          aria-label={`Register of ${title}, ${times}`}
        >
          Register
        </a>
      )}
    </>
  );
}
