import { useLocation } from 'preact-iso';
import type { Schemas } from '../../../api/client';
import type { Words } from './labels';

type Props = { courses: Schemas['CourseDates'][]; chosen: string; words: Words };

/** Which of the coming courses; a studio holds the same one again and again, so each says when it begins. */
export function CourseSelect({ courses, chosen, words }: Props) {
  const { route } = useLocation();
  if (courses.length < 2) return null;
  return (
    <label class="field choice">
      <span>Course</span>
      <select value={chosen} onChange={(event) => route(`/courses/price/${event.currentTarget.value}`)}>
        {courses.map(({ id, title, sessions: [first] }) => (
          <option key={id} value={id}>
            {first ? `${title}, ${words.day(first.startsAt)}` : title}
          </option>
        ))}
      </select>
    </label>
  );
}
