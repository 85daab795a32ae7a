import { useCallback } from 'preact/hooks';
import { api, type Schemas } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { useSettled } from '../../../ui/use-settled';
import type { CourseDraft } from './course-request-body';
import type { Plan } from './queries';

type Session = Schemas['NewCourse']['sessions'][number];
type Asked = { planId: string; places: number; sessions: Session[] };

/** What the form sees by itself, while it is typed. */
const SEEN_HERE = ['/problems/too-soon', '/problems/closed-day'];

/** Which tutors and rooms are in the way of each session, as soon as all of them have a day; what is in the way of all is said once. */
export function useConflicts(
  plan: Plan,
  { places, roomId }: CourseDraft,
  sessions: readonly (Session | null)[],
): { conflicts: string[][]; ofAll: string[] } {
  const dated = sessions.filter((session) => session !== null);
  const isWhole = dated.length === sessions.length && roomId !== '' && /^[1-9]\d{0,2}$/.test(places.trim());
  const wish: Asked | null = isWhole ? { planId: plan.id, places: Number(places), sessions: dated } : null;
  const settled = useSettled(wish);
  const read = useCallback(
    async (signal: AbortSignal) => {
      const { data } = await api.POST('/api/session-checks', { body: settled as Asked, signal });
      return data?.sessions ?? [];
    },
    [JSON.stringify(settled)],
  );
  // what is refused here is refused again when it is sent, with the place of the fault
  const { data } = useQuery({ key: ['session checks', JSON.stringify(settled)], read, enabled: settled !== null });
  if (settled === null || !data) return { conflicts: [], ofAll: [] };
  const each = data.map(({ conflicts }) =>
    conflicts.filter(({ type }) => !SEEN_HERE.includes(type)).map(({ detail }) => detail),
  );
  const ofAll = each.length > 1 ? (each[0] ?? []).filter((detail) => each.every((one) => one.includes(detail))) : [];
  return { conflicts: each.map((one) => one.filter((detail) => !ofAll.includes(detail))), ofAll };
}
