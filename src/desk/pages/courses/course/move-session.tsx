import { useState } from 'preact/hooks';
import { localDay, localTime } from '../../../../trade/calendar/calendar.js';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, type Schemas } from '../../../api/client';
import { count, type Formatter } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import type { Course } from '../labels';
import { type Session, timesOf } from './labels';
import { type Choices, ClosedDay, RoomsAndStaff, roomChoices, Tutors } from './session-fields';
import { WhomItConcerns } from './whom-it-concerns';

type Wish = Schemas['NewSessionMoveInput'];
type Moved = Schemas['SessionMove'];
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
      {(close) => <RoomsAndStaff>{(choices) => <Moving {...props} {...choices} onClose={close} />}</RoomsAndStaff>}
    </DialogButton>
  );
}

type OpenProps = Props & { onClose(): void };

function Moving({ course, session, timeZone, formatter, rooms, staff, closures, onClose }: OpenProps & Choices) {
  const at = (instant: string) => new Date(instant);
  const [day, setDay] = useState(() => localDay(at(session.startsAt), timeZone));
  const [from, setFrom] = useState(() => localTime(at(session.startsAt), timeZone));
  const [until, setUntil] = useState(() => localTime(at(session.endsAt), timeZone));
  const [roomId, setRoomId] = useState(session.roomId);
  const [tutorIds, setTutorIds] = useState<readonly string[]>(() => session.tutors.map(({ id }) => id));
  const [onClosedDay, setOnClosedDay] = useState(false);
  const [reason, setReason] = useState('');
  const isFilled = day !== '' && from !== '' && until !== '';
  const said = reason.trim() === '' ? {} : { reason: reason.trim() };
  const wish: Wish | null = isFilled
    ? { day, from, until, roomId, tutorIds: [...tutorIds], onClosedDay, ...said }
    : null;
  const params = { path: { sessionId: session.id } };
  return (
    <>
      <p>It is on {timesOf(session, formatter)}.</p>
      <div class="pairs">
        <Field label="Day" type="date" value={day} onChange={setDay} />
        <Field label="From" type="time" value={from} onChange={setFrom} />
        <Field label="Until" type="time" value={until} onChange={setUntil} />
        <Field label="Room" choices={roomChoices(rooms)} value={roomId} onChange={setRoomId} />
      </div>
      <ClosedDay {...{ closures, day }} checked={onClosedDay} onChange={setOnClosedDay} />
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

function Concerned({ outcome: { session, concerned, alsoTold }, before }: { outcome: Moved; before: Session }) {
  if (isSame(before, session)) return <p>Nothing is changed yet.</p>;
  return <WhomItConcerns {...{ concerned, alsoTold }} />;
}
