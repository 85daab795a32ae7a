import { useState } from 'preact/hooks';
import { type localDay, localTime } from '../../../../trade/calendar/calendar.js';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, type Schemas } from '../../../api/client';
import { count, type Formatter } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import { type Course, PURPOSES } from '../labels';
import { timesOf } from './labels';
import { type Choices, ClosedDay, RoomsAndStaff, roomChoices, Tutors } from './session-fields';
import { WhomItConcerns } from './whom-it-concerns';

type Wish = Schemas['NewSessionAddedInput'];
type Added = Schemas['SessionAddition'];
type Props = { course: Course; timeZone: string; formatter: Formatter };

/** Adds one more session; whom it concerns and their letters are seen first. */
export function AddSession(props: Props) {
  return (
    <DialogButton label="Add a session" title={`Add a session to ${props.course.title}`}>
      {(close) => <RoomsAndStaff>{(choices) => <Adding {...props} {...choices} onClose={close} />}</RoomsAndStaff>}
    </DialogButton>
  );
}

/** As the last session was, on a day that is still to be chosen. */
function Adding({
  course,
  timeZone,
  formatter,
  rooms,
  staff,
  closures,
  onClose,
}: Props & Choices & { onClose(): void }) {
  const last = course.sessions.at(-1);
  const at = (instant: string | undefined, of: typeof localDay) => (instant ? of(new Date(instant), timeZone) : '');
  const [day, setDay] = useState('');
  const [from, setFrom] = useState(() => at(last?.startsAt, localTime));
  const [until, setUntil] = useState(() => at(last?.endsAt, localTime));
  const [purpose, setPurpose] = useState<Wish['purpose']>('making');
  const [roomId, setRoomId] = useState(last?.roomId ?? '');
  const [tutorIds, setTutorIds] = useState<readonly string[]>(() => last?.tutors.map(({ id }) => id) ?? []);
  const [onClosedDay, setOnClosedDay] = useState(false);
  const [note, setNote] = useState('');
  const isFilled = day !== '' && from !== '' && until !== '';
  const said = note.trim() === '' ? {} : { note: note.trim() };
  const wish: Wish | null = isFilled
    ? { day, from, until, purpose, roomId, tutorIds: [...tutorIds], onClosedDay, ...said }
    : null;
  const params = { path: { courseId: course.id } };
  return (
    <>
      <div class="pairs">
        <Field label="Day" type="date" value={day} onChange={setDay} />
        <Field label="From" type="time" value={from} onChange={setFrom} />
        <Field label="Until" type="time" value={until} onChange={setUntil} />
        <Field<Wish['purpose']> label="For" choices={PURPOSES} value={purpose} onChange={setPurpose} />
        <Field label="Room" choices={roomChoices(rooms)} value={roomId} onChange={setRoomId} />
      </div>
      <ClosedDay {...{ closures, day }} checked={onClosedDay} onChange={setOnClosedDay} />
      <Tutors {...{ staff, tutorIds }} onChange={setTutorIds} />
      <Field
        label="What the letter says of it"
        value={note}
        onChange={setNote}
        maxLength={limitOf('NewSessionAddedInput', '#/note').maxLength}
      />
      {wish === null && <p class="quiet">Choose the day to see who is told.</p>}
      <PreviewedAction<Wish, Added>
        name={`add session ${course.id}`}
        wish={wish}
        ask={(body, signal) => api.POST('/api/courses/{courseId}/sessions/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/courses/{courseId}/sessions', { params, body, headers })}
        save={({ letters }) =>
          letters.length === 0 ? 'Add this session' : `Add this session, send ${count(letters.length, 'letter')}`
        }
        onDone={({ session }) => {
          onClose();
          toast(
            <span>
              {course.title} has one more session: {timesOf(session, formatter)}.
            </span>,
          );
        }}
        onCancel={onClose}
      >
        {({ concerned, alsoTold }) => <WhomItConcerns {...{ concerned, alsoTold }} />}
      </PreviewedAction>
    </>
  );
}
