import { api } from '../../api/client';
import type { Me } from '../../api/use-me';

/** Whether the owner's studio has no course yet. */
export async function isNewStudio({ rights }: Me, signal: AbortSignal): Promise<boolean> {
  if (!rights.includes('settings:write')) return false;
  const { data } = await api.GET('/api/courses', { params: { query: { limit: 1 } }, signal });
  return data?.items.length === 0;
}

/** For the owner of a new studio, until its first course is in the calendar. */
export const FirstSteps = () => (
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
