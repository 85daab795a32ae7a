import { useState } from 'preact/hooks';
import { api, type Schemas } from '../api/client';
import { useMutation } from '../api/use-mutation';
import { capital, count, type Formatter } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { limitOf } from '../forms/limits';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { BookingForm } from './book-place';
import { addPerson, ChoosePerson, type Chosen } from './choose-person';

type Request = Schemas['PlaceRequest'];
type Props = { request: Request; formatter: Formatter };

/** Makes a booking, or a wait for one, of what somebody asked for on the web page; or nothing. */
export function AnswerRequest({ request, formatter }: Props) {
  const { name, courseTitle, isJoinable, places, placesLeft } = request;
  const about = `for ${name} on ${courseTitle}`;
  return (
    <>
      {isJoinable && placesLeft > 0 && (
        <DialogButton
          label={`Book ${count(Math.min(places, placesLeft), 'place')}`}
          about={about}
          title={`Book for ${name}`}
        >
          {(close) => <BookRequest {...{ request, formatter }} onClose={close} />}
        </DialogButton>
      )}
      {isJoinable && placesLeft < places && (
        <DialogButton label="Put on the waiting list" about={about} title={`Put ${name} on the waiting list`}>
          {(close) => <LetWait request={request} onClose={close} />}
        </DialogButton>
      )}
      <Decline request={request} />
    </>
  );
}

function BookRequest({ request, formatter, onClose }: Props & { onClose(): void }) {
  const [person, setPerson] = useState<Chosen | null>(null);
  const { id, courseId, courseTitle, places } = request;
  if (!person) return <WhoAsked request={request} onChoose={setPerson} />;
  const course = { courseId, title: courseTitle };
  return (
    <>
      {places > 1 && <p>{capital(count(places, 'place'))} were asked for. Add who else comes, or book fewer.</p>}
      <BookingForm {...{ course, formatter, onClose, person }} request={{ requestId: id }} />
    </>
  );
}

function LetWait({ request, onClose }: { request: Request; onClose(): void }) {
  const mutation = useMutation({ thenRead: true });
  const { id, places, courseTitle, note } = request;
  const { maxLength = Number.POSITIVE_INFINITY } = limitOf('NewWaitingEntryInput', '#/note');
  const wait = async (person: Chosen) => {
    const body = { personId: person.id, places, note: note?.slice(0, maxLength) ?? null };
    const params = { path: { requestId: id } };
    const done = await mutation.run(body, (headers) =>
      api.POST('/api/place-requests/{requestId}/waiting-entry', { params, body, headers }),
    );
    if (!done) return;
    onClose();
    toast(
      <span>
        {person.name} is on the waiting list of {courseTitle}.
      </span>,
    );
  };
  return (
    <>
      {note !== null && note.length > maxLength && (
        <p class="quiet">
          The waiting list keeps the first {maxLength} letters of the note: “{note.slice(0, maxLength)}”
        </p>
      )}
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <WhoAsked request={request} onChoose={wait} />
    </>
  );
}

/** Who has the email address in the books, who is new, or somebody else whom the owner knows them to be. */
function WhoAsked({ request, onChoose }: { request: Request; onChoose(person: Chosen): void }) {
  const [isOther, setOther] = useState(false);
  const mutation = useMutation();
  const { name, email, phone, known } = request;
  const add = async () => {
    let added: Chosen | undefined;
    const done = await mutation.run(request, async (headers) => {
      added = await addPerson({ name, email, phone }, headers);
    });
    if (done && added) onChoose({ id: added.id, name: added.name });
  };
  if (isOther) return <ChoosePerson label="Who is it?" onChoose={onChoose} />;
  return (
    <>
      <p>
        {known.length > 0
          ? `${email} is in your books. Who is it?`
          : `${name} is not in your books by the address ${email}.`}
      </p>
      <ul class="choices" aria-label="Who asks">
        {known.map((person) => (
          <li key={person.id}>
            <button type="button" class="quiet" onClick={() => onChoose(person)}>
              {person.name}
            </button>
          </li>
        ))}
        <li>
          <button type="button" class="quiet" aria-disabled={mutation.busy} onClick={add}>
            Add {name} as a new person
          </button>
        </li>
        <li>
          <button type="button" class="quiet" onClick={() => setOther(true)}>
            Look for somebody else
          </button>
        </li>
      </ul>
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
    </>
  );
}

function Decline({ request: { id, name, courseTitle } }: { request: Request }) {
  const mutation = useMutation({ thenRead: true });
  const params = { path: { requestId: id } };
  const decline = () =>
    mutation.run(id, (headers) => api.POST('/api/place-requests/{requestId}/decline', { params, headers }));
  return (
    <DialogButton label="Decline" about={`${name} on ${courseTitle}`} title={`Decline ${name}’s request`}>
      {(close) => (
        <>
          <p>
            The request is taken off the list. No letter is sent, since nobody knows whether the address is theirs: tell{' '}
            {name} yourself.
          </p>
          {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
          <p class="acts">
            <button type="button" aria-disabled={mutation.busy} onClick={async () => (await decline()) && close()}>
              Decline it
            </button>
            <button type="button" class="quiet" onClick={close}>
              Cancel
            </button>
          </p>
        </>
      )}
    </DialogButton>
  );
}
