import { useState } from 'preact/hooks';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, type Schemas } from '../../../api/client';
import { count } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import type { Course } from '../labels';
import { type Choices, RoomsAndStaff, roomChoices, Tutors } from './session-fields';
import { WhomItConcerns } from './whom-it-concerns';

type Wish = Schemas['NewRemainingSessionsInput'];
type Changed = Schemas['RemainingSessions'];
type Props = { course: Course };

/** Gives all sessions to come another room or other tutors at once; whom it concerns and their letters are seen first. */
export function ChangeRemaining({ course }: Props) {
  return (
    <DialogButton label="Change room or tutors" title={`Room and tutors of ${course.title}`}>
      {(close) => (
        <RoomsAndStaff>{(choices) => <Changing {...{ course }} {...choices} onClose={close} />}</RoomsAndStaff>
      )}
    </DialogButton>
  );
}

function Changing({ course, rooms, staff, onClose }: Props & Choices & { onClose(): void }) {
  const last = course.sessions.at(-1);
  const [roomId, setRoomId] = useState(last?.roomId ?? '');
  const [tutorIds, setTutorIds] = useState<readonly string[]>(() => last?.tutors.map(({ id }) => id) ?? []);
  const params = { path: { courseId: course.id } };
  return (
    <>
      <p>This is for all sessions that have not begun.</p>
      <Field label="Room" choices={roomChoices(rooms)} value={roomId} onChange={setRoomId} />
      <Tutors {...{ staff, tutorIds }} onChange={setTutorIds} />
      <PreviewedAction<Wish, Changed>
        name={`remaining ${course.id}`}
        wish={roomId === '' ? null : { roomId, tutorIds: [...tutorIds] }}
        ask={(body, signal) => api.POST('/api/courses/{courseId}/remaining-sessions/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/courses/{courseId}/remaining-sessions', { params, body, headers })}
        save={({ letters }) =>
          letters.length === 0 ? 'Change all to come' : `Change all to come, send ${count(letters.length, 'letter')}`
        }
        onDone={() => {
          onClose();
          toast(<span>Room and tutors of {course.title} are changed.</span>);
        }}
        onCancel={onClose}
      >
        {({ concerned, alsoTold }) => <WhomItConcerns {...{ concerned, alsoTold }} />}
      </PreviewedAction>
    </>
  );
}
