import { useEffect, useState } from 'preact/hooks';
import { api, type Schemas, signInFirst } from '../../../api/client';
import { listCourses } from '../../../api/lists';

export type Shown =
  | { at: 'reading' }
  | { at: 'broken'; error: string }
  | {
      at: 'there';
      me: Schemas['Me'];
      studio: NonNullable<Schemas['Me']['studio']>;
      courses: Schemas['CourseDates'][];
      price: Schemas['CoursePrice'] | Schemas['PrivatePrice'] | null;
      error: string;
    };

/** Who is here, which courses are coming, and the price of the one chosen, or of the next. */
export function usePrice(courseId: string | undefined): Shown {
  const [shown, setShown] = useState<Shown>({ at: 'reading' });
  useEffect(() => {
    let current = true; // an answer that comes after another choice is not shown
    read(courseId).then(
      (next) => current && setShown(next),
      (error) => current && !signInFirst(error) && setShown({ at: 'broken', error: (error as Error).message }),
    );
    return () => {
      current = false;
    };
  }, [courseId]);
  return shown;
}

async function read(courseId: string | undefined): Promise<Shown> {
  const { data: me } = await api.GET('/api/me');
  if (!me) throw new Error('The server does not say who is signed in. Load the page again.');
  if (!me.studio) {
    location.assign('/studio');
    return { at: 'reading' };
  }
  const courses = await coming();
  const chosen = courseId ?? courses[0]?.id;
  const there = { at: 'there' as const, me, studio: me.studio, courses };
  if (!chosen) return { ...there, price: null, error: '' };
  try {
    const { data } = await api.GET('/api/courses/{courseId}/price', { params: { path: { courseId: chosen } } });
    return { ...there, price: data ?? null, error: '' };
  } catch (error) {
    if (signInFirst(error)) return { at: 'reading' };
    return { ...there, price: null, error: (error as Error).message };
  }
}

/** Courses that are not over, the next first. */
async function coming(): Promise<Schemas['CourseDates'][]> {
  const start = (course: Schemas['CourseDates']) => course.sessions[0]?.startsAt ?? '';
  return (await listCourses())
    .filter((course) => course.completedOn === null)
    .sort((a, b) => start(a).localeCompare(start(b)));
}
