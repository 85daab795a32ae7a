import { useCallback, useState } from 'preact/hooks';
import { signInFirst } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { Field } from '../../../forms/field';
import { SEARCH_MAX } from '../../../forms/limits';
import { useSettled } from '../../../ui/use-settled';
import { namesOf } from './people';
import { findPeople, type PeopleFound, type Person } from './queries';

type Props = {
  /** the first by name */
  people: PeopleFound;
  personId: string;
  fault: string | undefined;
  onChoose(personId: string): void;
};

/** Who it is: a few people stand there to choose from, of many those that the server finds by what is typed. */
export function PeopleChoice({ people, personId, fault, onChoose }: Props) {
  const [typed, setTyped] = useState('');
  const [chosen, setChosen] = useState<Person>();
  const { found, error } = useFound(typed.trim(), people);
  const isChosenShown = chosen?.id !== personId || found.items.some(({ id }) => id === personId);
  const shown = namesOf(isChosenShown ? found.items : [...found.items, chosen]);
  const more = found.total - found.items.length;
  return (
    <>
      {people.total > people.items.length && (
        <Field
          label="Find a person"
          type="search"
          hint={error?.message ?? hintOf(found.items.length, more)}
          value={typed}
          maxLength={SEARCH_MAX}
          fault={undefined}
          onChange={setTyped}
        />
      )}
      <Field
        label="Who takes it home?"
        value={personId}
        choices={[['', 'Choose'], ...shown.map(({ id, called }) => [id, called] as const)]}
        fault={fault}
        onChange={(id) => {
          setChosen([...found.items, chosen].find((person) => person?.id === id));
          onChoose(id);
        }}
        required
      />
    </>
  );
}

function hintOf(shown: number, more: number): string {
  if (shown === 0) return 'Nobody is found by that. Type fewer letters.';
  if (more > 0) return `The first ${shown} by name are below. Type a name, email or phone.`;
  return shown === 1 ? 'One person found, below.' : `${shown} people found, below.`;
}

/** What was found before stays until the answer is there. */
function useFound(typed: string, first: PeopleFound): { found: PeopleFound; error: Error | null } {
  const q = useSettled(typed);
  const read = useCallback((signal: AbortSignal) => findPeople(q, signal), [q]);
  const { data, error } = useQuery({ key: ['people to sell to', q], read, enabled: q !== '', keep: true });
  if (error) signInFirst(error);
  return { found: q === '' ? first : (data ?? first), error };
}
