import { useCallback, useState } from 'preact/hooks';
import { localDay, localTime } from '../../../../trade/calendar/calendar.js';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, Refused, type Schemas } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { count, type Formatter } from '../../../format/formatter';
import { CheckboxField } from '../../../forms/checkbox-field';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { DialogButton } from '../../../ui/dialog';
import { LookedUp } from '../../../ui/looked-up';
import { toast } from '../../../ui/toast';
import type { Course } from '../labels';
import { type Session, timesOf } from './labels';

type Wish = Schemas['NewSessionMoveInput'];
type Moved = Schemas['SessionMove'];
type Choices = { rooms: Schemas['Room'][]; staff: Schemas['StaffMember'][] };
type Props = { course: Course; session: Session; timeZone: string; formatter: Formatter };

/** Moves one session, or gives it another room or other tutors; whom it concerns and their letters are seen first. */
export function MoveSession(props: Props) {
  const { course, session } = props;
  return (
    <DialogButton
      label="Move"
      about={`session ${session.ordinal}`}
      title={`Move session ${session.ordinal} of ${course.title}`}
    >
      {(close) => <Reading {...props} onClose={close} />}
    </DialogButton>
  );
}

type OpenProps = Props & { onClose(): void };

function Reading(props: OpenProps) {
  const read = useCallback(async (signal: AbortSignal): Promise<Choices> => {
    const [rooms, staff] = await Promise.all([api.GET('/api/rooms', { signal }), api.GET('/api/staff', { signal })]);
    if (!rooms.data || !staff.data)
      throw new Refused('unknown', 'The rooms could not be loaded. Close this and open it again.');
    return { rooms: rooms.data.items, staff: staff.data.items };
  }, []);
  const query = useQuery({ key: ['rooms and staff'], read });
  return (
    <LookedUp what="rooms and tutors" query={query}>
      {(choices) => <Moving {...props} {...choices} />}
    </LookedUp>
  );
}

function Moving({ course, session, timeZone, formatter, rooms, staff, onClose }: OpenProps & Choices) {
  const at = (instant: string) => new Date(instant);
  const [day, setDay] = useState(() => localDay(at(session.startsAt), timeZone));
  const [from, setFrom] = useState(() => localTime(at(session.startsAt), timeZone));
  const [until, setUntil] = useState(() => localTime(at(session.endsAt), timeZone));
  const [roomId, setRoomId] = useState(session.roomId);
  const [tutorIds, setTutorIds] = useState<readonly string[]>(() => session.tutors.map(({ id }) => id));
  const [reason, setReason] = useState('');
  const isFilled = day !== '' && from !== '' && until !== '';
  const said = reason.trim() === '' ? {} : { reason: reason.trim() };
  const wish: Wish | null = isFilled ? { day, from, until, roomId, tutorIds: [...tutorIds], ...said } : null;
  const params = { path: { sessionId: session.id } };
  return (
    <>
      <p>It is on {timesOf(session, formatter)}.</p>
      <div class="pairs">
        <Field label="Day" type="date" value={day} onChange={setDay} />
        <Field label="From" type="time" value={from} onChange={setFrom} />
        <Field label="Until" type="time" value={until} onChange={setUntil} />
        <Field
          label="Room"
          choices={rooms.map(({ id, name, benches }) => [id, `${name}, ${benches} benches`] as const)}
          value={roomId}
          onChange={setRoomId}
        />
      </div>
      <Tutors {...{ staff, tutorIds }} onChange={setTutorIds} />
      <Field
        label="Reason, as the letter says it"
        value={reason}
        onChange={setReason}
        maxLength={limitOf('NewSessionMoveInput', '#/reason').maxLength}
      />
      <PreviewedAction<Wish, Moved>
        name={`move ${session.id}`}
        wish={wish}
        ask={(body, signal) => api.POST('/api/sessions/{sessionId}/moves/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/sessions/{sessionId}/moves', { params, body, headers })}
        save={({ outcome, letters }) => saveLabel(session, outcome.session, letters.length)}
        onDone={(moved) => {
          onClose();
          toast(
            <span>
              Session {session.ordinal} of {course.title} is on {timesOf(moved.session, formatter)}.
            </span>,
          );
        }}
        onCancel={onClose}
      >
        {(outcome) => <Concerned outcome={outcome} before={session} />}
      </PreviewedAction>
    </>
  );
}

type TutorsProps = {
  staff: Choices['staff'];
  tutorIds: readonly string[];
  onChange(tutorIds: readonly string[]): void;
};

const Tutors = ({ staff, tutorIds, onChange }: TutorsProps) => (
  <fieldset>
    <legend>Who teaches</legend>
    {staff.map(({ id, name }) => (
      <CheckboxField
        key={id}
        checked={tutorIds.includes(id)}
        onChange={(checked) => onChange(checked ? [...tutorIds, id] : tutorIds.filter((one) => one !== id))}
      >
        {name}
      </CheckboxField>
    ))}
  </fieldset>
);

const isSame = (one: Session, other: Session): boolean =>
  one.startsAt === other.startsAt &&
  one.endsAt === other.endsAt &&
  one.roomId === other.roomId &&
  one.tutors.map(({ id }) => id).join() === other.tutors.map(({ id }) => id).join();

/** What the button says; null where nothing would change. */
function saveLabel(before: Session, after: Session, letters: number): string | null {
  if (isSame(before, after)) return null;
  return letters === 0 ? 'Change this session' : `Move this session, send ${count(letters, 'letter')}`;
}

function Concerned({ outcome: { session, concerned }, before }: { outcome: Moved; before: Session }) {
  if (isSame(before, session)) return <p>Nothing is changed yet.</p>;
  if (concerned.length === 0) return <p>No letter goes out.</p>;
  return (
    <>
      <p>Each of these gets a letter:</p>
      <ul aria-label="Whom it concerns">
        {concerned.map(({ bookingId, payerName, attendees }) => (
          <li key={bookingId}>
            {payerName}
            {(attendees.length > 1 || attendees[0] !== payerName) && `, for ${attendees.join(', ')}`}
          </li>
        ))}
      </ul>
    </>
  );
}
