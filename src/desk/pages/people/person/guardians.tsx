import { useState } from 'preact/hooks';
import { ChoosePerson, type Chosen } from '../../../actions/choose-person';
import { api, type Schemas } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import { limitOf } from '../../../forms/limits';
import { DialogButton } from '../../../ui/dialog';
import { PhoneLink } from '../../../ui/phone-link';

export type GuardiansRead = Schemas['Guardians'] & { etag: string };
type Person = Schemas['Person'];
type Props = { person: Person; of: GuardiansRead; mayChange: boolean };

const GUARDIANS_MAX = limitOf('NewGuardiansInput', '#/guardianIds').maxItems ?? Number.POSITIVE_INFINITY;

/** Whom to ring about a child, and for whom somebody answers. */
export function Guardians({ person, of, mayChange }: Props) {
  const { guardians, guardianOf } = of;
  if (!person.isChild && guardianOf.length === 0) return null;
  return (
    <section>
      <h2>{person.isChild ? 'Guardians' : 'Guardian of'}</h2>
      {person.isChild && guardians.length === 0 && (
        <p class="amber">Nobody is noted who answers for {person.name}. Say whom to ring.</p>
      )}
      <ul>
        {guardians.map((guardian) => (
          <li key={guardian.personId}>
            <a href={`/people/${guardian.personId}`}>{guardian.name}</a> <Reached guardian={guardian} />
          </li>
        ))}
        {guardianOf.map(({ personId, name }) => (
          <li key={personId}>
            <a href={`/people/${personId}`}>{name}</a>
          </li>
        ))}
      </ul>
      {person.isChild && mayChange && (
        <p class="acts no-paper">
          <DialogButton label="Change guardians" title={`Who answers for ${person.name}?`}>
            {(close) => <Choosing {...{ person, of }} onClose={close} />}
          </DialogButton>
        </p>
      )}
    </section>
  );
}

function Reached({ guardian: { phone, email } }: { guardian: Schemas['Guardian'] }) {
  if (phone === null && email === null) return <span class="amber">has no phone or email here yet</span>;
  return (
    <>
      {phone && <PhoneLink phone={phone} />} {email && <a href={`mailto:${email}`}>{email}</a>}
    </>
  );
}

/** Those who answer for a child, the one to ring first first. */
function Choosing({ person, of, onClose }: Omit<Props, 'mayChange'> & { onClose(): void }) {
  const [chosen, setChosen] = useState<readonly Chosen[]>(of.guardians.map(({ personId: id, name }) => ({ id, name })));
  const [isAdding, setAdding] = useState(chosen.length === 0);
  const mutation = useMutation();
  const body = { guardianIds: chosen.map(({ id }) => id) };
  const save = async () => {
    const done = await mutation.run(body, (headers) =>
      api.PUT('/api/people/{personId}/guardians', {
        ...{ params: { path: { personId: person.id } }, body },
        headers: { ...headers, 'if-match': of.etag },
      }),
    );
    if (done) onClose();
  };
  return (
    <>
      <p class="quiet">Ring them in this order. Letters to {person.name} go to the first who has an email address.</p>
      <ol>
        {chosen.map(({ id, name }, i) => (
          <li key={id}>
            {name}{' '}
            <span class="acts">
              {i > 0 && (
                <button
                  type="button"
                  class="quiet"
                  onClick={() => setChosen([chosen[i] as Chosen, ...chosen.filter((one) => one.id !== id)])}
                >
                  Ring {name} first
                </button>
              )}
              <button type="button" class="quiet" onClick={() => setChosen(chosen.filter((one) => one.id !== id))}>
                Remove {name}
              </button>
            </span>
          </li>
        ))}
      </ol>
      {isAdding ? (
        <ChoosePerson
          label="Guardian"
          otherThan={[person.id, ...chosen.map(({ id }) => id)]}
          onChoose={(one) => {
            setChosen([...chosen, one]);
            setAdding(false);
          }}
        />
      ) : (
        chosen.length < GUARDIANS_MAX && (
          <p class="acts">
            <button type="button" class="quiet" onClick={() => setAdding(true)}>
              Add another guardian
            </button>
          </p>
        )
      )}
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <p class="acts">
        <button type="button" aria-disabled={mutation.busy} onClick={save}>
          Save
        </button>
        <button type="button" class="quiet" onClick={onClose}>
          Cancel
        </button>
      </p>
    </>
  );
}
