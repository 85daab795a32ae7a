import type { Schemas } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { FIELDS, fieldInWords } from '../merge-labels';

type Merge = Schemas['Merge'];
type Person = Schemas['Person'];
type Props = { person: Person; merges: readonly Merge[]; formatter: Formatter };

/** The entries that became part of this one, as they were, and what this one said before: nothing of them is lost. */
export function MergedEntries({ person, merges, formatter }: Props) {
  if (merges.length === 0) return null;
  return (
    <section class="no-paper">
      <h2>Earlier entries of theirs</h2>
      <ul>
        {merges.map(({ id, was, intoWas, mergedAt, mergedBy }) => {
          const before = saidOf(intoWas, formatter).filter((said) => !saidOf(person, formatter).includes(said));
          return (
            <li key={id}>
              {saidOf(was, formatter).join(' · ')}
              <br />
              <small class="quiet">
                Merged by {mergedBy} on {formatter.fullDate(formatter.dayOf(mergedAt))}.
                {before.length > 0 && ` Until then this entry said: ${before.join(' · ')}`}
              </small>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

const saidOf = (person: Person, formatter: Formatter): string[] =>
  FIELDS.map(([field]) =>
    field === 'isChild' && !person.isChild ? '' : fieldInWords(person, field, formatter),
  ).filter(Boolean);
