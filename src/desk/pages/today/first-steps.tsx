import { api } from '../../api/client';
import { useQuery } from '../../api/query';
import type { Me } from '../../api/use-me';

const readHasCourse = async (): Promise<boolean> => {
  const { data } = await api.GET('/api/courses', { params: { query: { limit: 1 } } });
  return data === undefined || data.items.length > 0;
};

/** For the owner of a new studio, until its first course is in the calendar. */
export function FirstSteps({ me }: { me: Me }) {
  const enabled = me.rights.includes('settings:write');
  const { data: hasCourse } = useQuery({ key: ['has-course'], read: readHasCourse, enabled });
  if (hasCourse !== false) return null;
  return (
    <section class="no-paper">
      <h2>Your studio is new</h2>
      <p>A few short steps lead to the price of your first course and into the calendar.</p>
      <p class="acts">
        <a class="does" href="/studio/start">
          Take the first steps
        </a>
      </p>
    </section>
  );
}
