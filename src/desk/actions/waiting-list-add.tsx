import { useState } from 'preact/hooks';
import { api } from '../api/client';
import { useMutation } from '../api/use-mutation';
import { ErrorMessage } from '../forms/error-message';
import { Field } from '../forms/field';
import { limitOf } from '../forms/limits';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { ChoosePerson, type Chosen } from './choose-person';

type Course = { courseId: string; title: string };

/** Puts somebody on the waiting list of a course that is full. */
export function WaitForPlace({ course }: { course: Course }) {
  return (
    <DialogButton
      label="Put on the waiting list"
      about={`of ${course.title}`}
      title={`Put somebody on the waiting list of ${course.title}`}
    >
      {(close) => <Waiting course={course} onClose={close} />}
    </DialogButton>
  );
}

function Waiting({ course: { courseId, title }, onClose }: { course: Course; onClose(): void }) {
  const [person, setPerson] = useState<Chosen | null>(null);
  const [places, setPlaces] = useState('1');
  const [note, setNote] = useState('');
  const mutation = useMutation();
  if (!person) return <ChoosePerson label="Who waits" onChoose={setPerson} />;
  const wanted = /^\d{1,2}$/.test(places.trim()) ? Number(places) : 0;
  const { maximum } = limitOf('NewWaitingEntryInput', '#/places');
  const add = async () => {
    if (wanted < 1) return;
    const body = { personId: person.id, places: wanted, note: note.trim() || null };
    const done = await mutation.run(body, (headers) =>
      api.POST('/api/courses/{courseId}/waiting-list', { params: { path: { courseId } }, body, headers }),
    );
    if (!done) return;
    onClose();
    toast(
      <span>
        {person.name} is on the waiting list of {title}.
      </span>,
    );
  };
  return (
    <>
      <p>
        <b>{person.name}</b>{' '}
        <button type="button" class="quiet" onClick={() => setPerson(null)}>
          Choose somebody else
        </button>
      </p>
      <div class="pairs">
        <Field
          label="Places"
          figures="whole"
          value={places}
          onChange={setPlaces}
          fault={wanted < 1 ? `Write a number from 1 to ${maximum}.` : undefined}
        />
        <Field
          label="Note for you"
          hint="For example, only with a friend"
          value={note}
          onChange={setNote}
          maxLength={limitOf('NewWaitingEntryInput', '#/note').maxLength}
        />
      </div>
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <p class="acts">
        <button type="button" aria-disabled={mutation.busy || wanted < 1} onClick={add}>
          Put on the waiting list
        </button>
        <button type="button" class="quiet" onClick={onClose}>
          Cancel
        </button>
      </p>
    </>
  );
}
