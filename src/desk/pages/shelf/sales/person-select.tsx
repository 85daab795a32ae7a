import { useMemo, useState } from 'preact/hooks';
import { Field } from '../../../forms/field';
import { found, MOST_SHOWN, namesOf } from './people';
import type { Person } from './queries';

type Props = {
  people: readonly Person[];
  personId: string;
  fault: string | undefined;
  onChoose(personId: string): void;
};

/** Who it is: a few people stand there to choose from, of many those that a part of the name finds. */
export function PeopleChoice({ people, personId, fault, onChoose }: Props) {
  const [words, setWords] = useState('');
  const named = useMemo(() => namesOf(people), [people]);
  const { shown, more } = useMemo(() => found(named, words, personId), [named, words, personId]);
  return (
    <>
      {people.length > MOST_SHOWN && (
        <Field
          label="Find a name"
          hint={more > 0 ? `${shown.length} shown, ${more} more: type a part of the name.` : undefined}
          value={words}
          fault={undefined}
          onChange={setWords}
        />
      )}
      <Field
        label="Who takes it home?"
        value={personId}
        choices={[['', 'Choose'], ...shown.map(({ id, called }) => [id, called] as const)]}
        fault={fault}
        onChange={onChoose}
        required
      />
    </>
  );
}
