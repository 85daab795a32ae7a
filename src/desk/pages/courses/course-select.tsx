import { useLocation } from 'preact-iso';
import type { Schemas } from '../../api/client';
import type { CoursesFound } from '../../api/lists';
import { Field } from '../../forms/field';

type Listed = Pick<Schemas['CourseDates'], 'id' | 'title'> & { sessions: { startsAt: string }[] };
type Props = {
  courses: CoursesFound;
  /** one that may not be among them; null while there is none */
  chosen: Listed | null;
  /** the page that shows one, without its id */
  path: string;
  /** where those are found that are not offered */
  others: { label: string; to: string };
  day(instant: string): string;
};

/** One of many courses; a studio holds the same one again and again, so each says when it begins. */
export function CourseSelect({ courses: { items, hasMore }, chosen, path, others, day }: Props) {
  const { route } = useLocation();
  const isOffered = chosen === null || items.some(({ id }) => id === chosen.id);
  const offered: Listed[] = isOffered ? items : [chosen, ...items];
  if (offered.length < 2 && !hasMore) return null;
  return (
    <div class="choice no-paper">
      <Field
        label="Course"
        value={chosen?.id ?? ''}
        choices={offered.map(({ id, title, sessions: [first] }) => [
          id,
          first ? `${title}, ${day(first.startsAt)}` : title,
        ])}
        onChange={(id) => route(`${path}/${id}`)}
      />
      {hasMore && (
        <p class="quiet">
          {items.length === 1 ? 'One course' : `${items.length} courses`} can be chosen here.{' '}
          <a href={others.to}>{others.label}</a>
        </p>
      )}
    </div>
  );
}
