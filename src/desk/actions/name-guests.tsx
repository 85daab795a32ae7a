import { useState } from 'preact/hooks';
import { api } from '../api/client';
import { useMutation } from '../api/use-mutation';
import { count } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { DialogButton } from '../ui/dialog';
import { ChoosePerson, type Chosen } from './choose-person';

type Group = { bookingId: string; bookedBy: string; unnamed: number };

/** Says who some of a group are that booked without names. */
export function NameGuests({ group }: { group: Group }) {
  return (
    <DialogButton label="Name guests" about={`of ${group.bookedBy}`} title={`Who comes with ${group.bookedBy}?`}>
      {(close) => <Naming group={group} onClose={close} />}
    </DialogButton>
  );
}

function Naming({ group: { bookingId, unnamed }, onClose }: { group: Group; onClose(): void }) {
  const [people, setPeople] = useState<readonly Chosen[]>([]);
  const mutation = useMutation();
  const left = unnamed - people.length;
  const save = async () => {
    const body = { attendeeIds: people.map(({ id }) => id) };
    const done = await mutation.run(body, (headers) =>
      api.POST('/api/bookings/{bookingId}/names', { params: { path: { bookingId } }, body, headers }),
    );
    if (done) onClose();
  };
  return (
    <>
      <p class="quiet">The price stays. {count(left, 'guest has', 'guests have')} no name yet.</p>
      {people.map(({ id, name }) => (
        <p key={id}>
          <b>{name}</b>{' '}
          <button type="button" class="quiet" onClick={() => setPeople(people.filter((one) => one.id !== id))}>
            Remove {name}
          </button>
        </p>
      ))}
      {left > 0 && (
        <ChoosePerson
          key={people.length}
          label="Who comes too"
          otherThan={people.map(({ id }) => id)}
          onChoose={(one) => setPeople([...people, one])}
        />
      )}
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      {people.length > 0 && (
        <p class="acts">
          <button type="button" aria-disabled={mutation.busy} onClick={save}>
            Save
          </button>
          <button type="button" class="quiet" onClick={onClose}>
            Cancel
          </button>
        </p>
      )}
    </>
  );
}
