import { type Formatter, listed } from '../../format/formatter';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import type { Session, Today } from './labels';

type Props = { today: Today; formatter: Formatter };

/** Who is taught what, and who comes; without a session today, the next day that has one. */
export function Sessions({ today: { sessions, nextSessionsOn }, formatter }: Props) {
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
        <Taught key={session.sessionId} session={session} formatter={formatter} />
      ))}
    </Disclosure>
  );
}

function Taught({ session, formatter }: { session: Session; formatter: Formatter }) {
  const { title, startsAt, endsAt, room, tutors, booked, places, coming, hazards } = session;
  return (
    <article class="session">
      <h3>
        {title}{' '}
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
          {coming.map(({ personId, name, provisional }) => (
            <li key={personId}>
              {name}
              {provisional && <span class="amber"> (place not yet confirmed)</span>}
            </li>
          ))}
        </ul>
      )}
      {hazards.map((hazard) => (
        <p key={hazard} class="caution">
          {hazard}
        </p>
      ))}
    </article>
  );
}
