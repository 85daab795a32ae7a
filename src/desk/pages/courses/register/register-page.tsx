import './register.css';
import { useCallback } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { MakeUpElsewhere, madeUpIn, missedIn, RemoveMakeUp } from '../../../actions/make-up';
import { NameGuests } from '../../../actions/name-guests';
import { consentInWords, NoteConsent } from '../../../actions/note-consent';
import { TakePayment } from '../../../actions/take-payment';
import type { Me } from '../../../api/use-me';
import { capital, count, type Formatter, listed } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { type At, Page } from '../../../ui/page';
import { PhoneLink } from '../../../ui/phone-link';
import { CoursesTabs } from '../courses-tabs';
import { answerOf, type Comer, cameOf, peopleAt, type Session, sessionMeant, unsentOf } from './labels';
import { owedFor, type RegisterRead, readRegister } from './queries';
import { type Taps, useTaps } from './use-taps';

/** Who is here? For a phone at the door. */
export function RegisterPage() {
  const { params } = useRoute();
  const courseId = params.courseId ?? '';
  const read = useCallback((me: Me, signal: AbortSignal) => readRegister(courseId, me, signal), [courseId]);
  return (
    <Page
      question="Register"
      tabs={(me) => <CoursesTabs me={me} />}
      read={read}
      headed={({ register }) => `Register: ${register.title}`}
      searches
    >
      {(found, at) => <Opened key={courseId} {...found} at={at} />}
    </Page>
  );
}

function Opened({ register, bookings, care, skewMilliseconds, at }: RegisterRead & { at: At }) {
  const { me, formatter, again } = at;
  const { path, query, route } = useLocation();
  const taps = useTaps(me.id, again, skewMilliseconds);
  const session = sessionMeant(register.sessions, query.session, me.today, formatter);
  if (!session) return <p>This course has no session.</p>;
  const people = peopleAt(register, session.id);
  const isHere = (id: string) => people.some(({ personId }) => personId === id);
  const rows = people.map((person) => ({
    ...person,
    came: cameOf(person.personId, session.id, register.attendance, taps.taps),
    owed: saidOnce(owedFor(person.personId, bookings), person.personId, isHere),
    child: register.children.find(({ personId }) => personId === person.personId),
    careNote: care.find((one) => one.personId === person.personId && one.sessionId === session.id)?.careNote ?? null,
  }));
  const isAhead = formatter.dayOf(session.startsAt) > me.today;
  return (
    <>
      <p class="answer" role="status">
        {answerOf(rows.filter(isExpected).map(({ came }) => came))}
      </p>
      {register.sessions.length > 1 ? (
        <Field
          label="Session"
          choices={register.sessions.map((one) => [one.id, calledSession(one, formatter)] as const)}
          value={session.id}
          onChange={(id) => route(`${path}?session=${id}`, true)}
        />
      ) : (
        <p>{calledSession(session, formatter)}</p>
      )}
      <Missing people={rows} />
      {isAhead && <p class="quiet">You can note who came from the day of the session on.</p>}
      <Waiting taps={taps} people={rows} />
      <ul class="register-list" aria-label="Who comes">
        {rows.map((row) => (
          <PersonRow
            key={row.personId}
            {...{ row, session, isAhead, me, formatter }}
            course={{ courseId: register.courseId, title: register.title }}
            note={taps.note}
          />
        ))}
      </ul>
      {register.groups.map((group) => (
        <p key={group.bookingId} class="acts">
          <span>
            {capital(count(group.unnamed, 'more person', 'more people'))} in {group.bookedBy}’s group, without a name.
          </span>
          {me.rights.includes('money:write') && <NameGuests group={group} />}
        </p>
      ))}
      {register.hazards.map((hazard) => (
        <p key={hazard} class="caution">
          {hazard}
        </p>
      ))}
      <p class="acts no-paper">
        <a href={`/courses/${register.courseId}`}>About this course</a>
      </p>
    </>
  );
}

/** Who makes the session up elsewhere is not looked for, unless somebody noted that they came. */
const isExpected = ({ elsewhere, came }: Pick<Row, 'elsewhere' | 'came'>) => elsewhere === null || came !== null;

const calledSession = ({ startsAt, endsAt, roomName }: Session, { longDay, dayOf, time }: Formatter): string =>
  `${longDay(dayOf(startsAt))}, ${time(startsAt)} to ${time(endsAt)}, ${roomName}`;

/** What is still to be asked of guardians before the class. */
function Missing({ people }: { people: readonly Row[] }) {
  const [consents, guardians] = [
    people.filter(({ child }) => child?.consent === null).length,
    people.filter(({ child }) => child?.guardians.length === 0).length,
  ];
  if (consents + guardians === 0) return null;
  const said = [
    ...(consents > 0 ? [`a consent is missing for ${count(consents, 'child', 'children')}`] : []),
    ...(guardians > 0 ? [`nobody is noted whom to ring for ${count(guardians, 'child', 'children')}`] : []),
  ];
  return <p class="caution">Before class: {listed(said)}.</p>;
}

/** What is not noted yet at the server, and what it refused. */
function Waiting({ taps, people }: { taps: Taps; people: readonly Comer[] }) {
  const nameOf = (id: string) => people.find(({ personId }) => personId === id)?.name ?? 'Somebody';
  return (
    <>
      <div role="status">
        {taps.unsent > 0 && taps.isCutOff && <p class="caution">{unsentOf(taps.unsent, taps.isKept)}</p>}
      </div>
      {taps.refused.map(({ tap, detail }) => (
        <ErrorMessage key={tap.key}>
          {nameOf(tap.personId)} was not noted: {detail}
        </ErrorMessage>
      ))}
    </>
  );
}

/** What a booking owes is said with who pays for it, where they are here too, and not with each of their friends. */
const saidOnce = (owed: Row['owed'], personId: string, isHere: (id: string) => boolean): Row['owed'] =>
  owed && owed.payerId !== personId && isHere(owed.payerId) ? null : owed;

type Row = Comer & {
  child: RegisterRead['register']['children'][number] | undefined;
  came: boolean | null;
  owed: ReturnType<typeof owedFor>;
  careNote: string | null;
};
type RowProps = {
  row: Row;
  session: Session;
  isAhead: boolean;
  me: Me;
  formatter: Formatter;
  note: Taps['note'];
  course: { courseId: string; title: string };
};

/** Somebody with two buttons; the one that counts is pressed, and pressing it again takes it back. */
function PersonRow({ row, session, isAhead, me, formatter, note, course }: RowProps) {
  const { personId, name, bookedBy, came, owed, careNote } = row;
  const press = (wanted: boolean) => note({ sessionId: session.id, personId, came: came === wanted ? null : wanted });
  const button = (wanted: boolean, label: string) => (
    <button
      type="button"
      class={came === wanted ? undefined : 'quiet'}
      aria-pressed={came === wanted}
      aria-label={`${label}: ${name}`}
      onClick={() => press(wanted)}
    >
      {label}
    </button>
  );
  return (
    <li>
      <div>
        <p>
          <a href={`/people/${personId}`}>{name}</a>
          {bookedBy !== null && bookedBy !== name && <span class="quiet"> booked by {bookedBy}</span>}
        </p>
        {careNote && (
          <p class="care-note no-paper">
            <b>Please mind:</b> {careNote}
          </p>
        )}
        {row.child && <WhomToRing {...row.child} />}
        {row.child && <ConsentOf {...{ row, child: row.child, course, me, formatter }} />}
        <MakingUp {...{ row, session, me, formatter }} />
        {owed && (
          <p class="acts">
            <span class="amber">
              {formatter.moneyInText(owed.owedMinor)} still to pay{owed.payerName !== name && ` by ${owed.payerName}`}
            </span>
            {me.rights.includes('money:write') && (
              <TakePayment person={{ personId: owed.payerId, name: owed.payerName }} formatter={formatter} />
            )}
          </p>
        )}
      </div>
      {!isAhead && me.rights.includes('attendance:write') && (
        <div class="came">
          {button(true, 'Came')}
          {button(false, 'Did not come')}
        </div>
      )}
    </li>
  );
}

/** Whom to ring about a child. */
function WhomToRing({ guardians }: NonNullable<Row['child']>) {
  if (guardians.length === 0) return <p class="amber">A child, and nobody is noted whom to ring.</p>;
  return (
    <p>
      A child. Ring{' '}
      {guardians.map(({ personId, name, phone }, i) => (
        <span key={personId}>
          {i > 0 && ', then '}
          {name} {phone ? <PhoneLink phone={phone} /> : <span class="amber">(no phone number)</span>}
        </span>
      ))}
    </p>
  );
}

type ConsentProps = Pick<RowProps, 'row' | 'course' | 'me' | 'formatter'> & { child: NonNullable<Row['child']> };

/** Whether a guardian agreed that a child comes, before the class begins. */
function ConsentOf({ row: { personId, name }, child: { consent, guardians }, course, me, formatter }: ConsentProps) {
  if (consent) return <p class="quiet">{consentInWords(consent, formatter)}</p>;
  return (
    <p class="acts">
      <span class="amber">No consent of a guardian is noted.</span>
      {me.rights.includes('people:write') && (
        <NoteConsent {...{ child: { personId, name }, guardians, course }} today={me.today} />
      )}
    </p>
  );
}

type MakingUpProps = { row: Row; session: Session; me: Me; formatter: Formatter };

/** Who comes to make a session up or makes this one up elsewhere; or a button to let somebody who misses it. */
function MakingUp({ row, session, me, formatter }: MakingUpProps) {
  const { personId, name, guest, elsewhere, bookingId, came } = row;
  const makeUp = guest ?? elsewhere;
  const mayChange = me.rights.includes('courses:write');
  const isToCome = (at: string) => formatter.dayOf(at) >= me.today; // what has begun today is refused
  if (makeUp)
    return (
      <p class="acts">
        <span>{guest ? missedIn(guest, formatter) : madeUpIn(makeUp, formatter)}</span>
        {mayChange && isToCome(makeUp.there.startsAt) && <RemoveMakeUp makeUp={makeUp} formatter={formatter} />}
      </p>
    );
  const canMiss = came === false || isToCome(session.startsAt);
  if (bookingId === null || !mayChange || !canMiss) return null;
  return (
    <p class="acts no-paper">
      <MakeUpElsewhere {...{ bookingId, session, formatter }} person={{ personId, name }} />
    </p>
  );
}
