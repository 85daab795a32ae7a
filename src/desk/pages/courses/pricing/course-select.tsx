import { useLocation } from 'preact-iso';
import type { Schemas } from '../../../api/client';
import { Field } from '../../../forms/field';
import type { Words } from './labels';

type Props = { courses: Schemas['CourseDates'][]; chosen: string; words: Words };

/** Which of the coming courses; a studio holds the same one again and again, so each says when it begins. */
export function CourseSelect({ courses, chosen, words }: Props) {
  const { route } = useLocation();
  if (courses.length < 2) return null;
  return (
    <div class="choice no-paper">
      <Field
        label="Course"
        value={chosen}
        choices={courses.map(({ id, title, sessions: [first] }) => [
          id,
          first ? `${title}, ${words.day(first.startsAt)}` : title,
        ])}
        onChange={(id) => route(`/courses/price/${id}`)}
      />
    </div>
  );
}
