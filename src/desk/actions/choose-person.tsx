import { useCallback, useState } from 'preact/hooks';
import { api, type Schemas, signInFirst } from '../api/client';
import type { Headers } from '../api/idempotency-key';
import { useQuery } from '../api/query';
import { useMutation } from '../api/use-mutation';
import { ErrorMessage } from '../forms/error-message';
import { Field } from '../forms/field';
import { limitOf, SEARCH_MAX } from '../forms/limits';
import { useSettled } from '../ui/use-settled';

const SHOWN_MAX = 6;

export type Chosen = { id: string; name: string };
type Props = {
  label: string;
  /** Not these. */
  otherThan?: readonly string[];
  /** Only somebody who is there already. */
  onlyKnown?: boolean;
  onChoose(person: Chosen): void;
};

/** Finds somebody by name, email or phone, or adds them where they are new. */
export function ChoosePerson({ label, otherThan = [], onlyKnown = false, onChoose }: Props) {
  const [typed, setTyped] = useState('');
  const q = useSettled(typed.trim());
  const read = useCallback(
    async (signal: AbortSignal) => {
      const { data } = await api.GET('/api/people', { params: { query: { q, limit: SHOWN_MAX } }, signal });
      return data ?? { items: [], total: 0 };
    },
    [q],
  );
  const { data: found, error } = useQuery({ key: ['people', q], read, enabled: q !== '', keep: true });
  if (error) signInFirst(error);
  const isAsked = q !== '' && found !== undefined;
  const people = (found?.items ?? []).filter(({ id }) => !otherThan.includes(id));
  return (
    <>
      <Field
        label={label}
        hint="Name, email, phone or the code of a piece"
        type="search"
        value={typed}
        onChange={setTyped}
        maxLength={SEARCH_MAX}
      />
      {error && <ErrorMessage>{error.message}</ErrorMessage>}
      {isAsked && people.length > 0 && (
        <ul class="choices" aria-label="People found">
          {people.map(({ id, name, email, phone }) => (
            <li key={id}>
              <button type="button" class="quiet" onClick={() => onChoose({ id, name })}>
                {name}
              </button>{' '}
              <small>{email ?? phone}</small>
            </li>
          ))}
        </ul>
      )}
      {isAsked && people.length === 0 && <p class="quiet">Nobody {otherThan.length > 0 && 'else '}is found by that.</p>}
      {isAsked && found.total > found.items.length && (
        <p class="quiet">The first {found.items.length} are shown; type more letters.</p>
      )}
      {isAsked && !onlyKnown && <NewPerson key={q} name={q} onChoose={onChoose} />}
    </>
  );
}

/** Adds somebody to the people, with what is known of them so far. */
export async function addPerson(
  known: Pick<Schemas['NewPersonInput'], 'name' | 'email'> & { phone?: string | null },
  headers: Headers,
): Promise<Chosen | undefined> {
  const unsaid = { paperName: null, phone: null, addressLines: [], memberSince: null, isChild: false };
  const later = { wishes: null, note: null };
  return (await api.POST('/api/people', { body: { ...unsaid, ...later, ...known }, headers })).data;
}

/** Adds who is not there yet, with a name and an email address; the rest can be added on their page. */
function NewPerson({ name, onChoose }: { name: string; onChoose(person: Chosen): void }) {
  const [open, setOpen] = useState(false);
  const [values, setValues] = useState({ name, email: '' });
  const mutation = useMutation();
  if (!open)
    return (
      <button type="button" class="quiet" onClick={() => setOpen(true)}>
        Add “{name}” as a new person
      </button>
    );
  const add = async () => {
    const known = { name: values.name.trim(), email: values.email.trim() || null };
    let added: Chosen | undefined;
    const done = await mutation.run(known, async (headers) => {
      added = await addPerson(known, headers);
    });
    if (done && added) onChoose({ id: added.id, name: added.name });
  };
  return (
    <>
      <div class="pairs">
        <Field
          label="Name"
          value={values.name}
          onChange={(name) => setValues({ ...values, name })}
          maxLength={limitOf('NewPersonInput', '#/name').maxLength}
        />
        <Field label="Email" type="email" value={values.email} onChange={(email) => setValues({ ...values, email })} />
      </div>
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <button type="button" class="quiet" aria-disabled={mutation.busy} onClick={add}>
        Add this person
      </button>
    </>
  );
}
