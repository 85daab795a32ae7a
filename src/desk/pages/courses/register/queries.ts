import { fetchAllPages } from '../../../api/all-pages';
import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import type { Register } from './labels';

type Booking = Schemas['Booking'];

/** Who comes, with what is still owed by booking; null is what somebody without that right may not see. */
export type RegisterRead = {
  register: Register;
  bookings: Booking[] | null;
  /** what they told about health and access, at the sessions where one may see it */
  care: Schemas['CourseCareNotes']['notes'];
  /** by so much the server's clock is ahead of this device's */
  skewMilliseconds: number;
};

export async function readRegister(courseId: string, { rights }: Me, signal: AbortSignal): Promise<RegisterRead> {
  const params = { path: { courseId } };
  const [register, bookings, care] = await Promise.all([
    api.GET('/api/courses/{courseId}/register', { params, signal }),
    rights.includes('money:read')
      ? fetchAllPages('who has booked', (query) =>
          api.GET('/api/courses/{courseId}/bookings', { params: { ...params, query }, signal }),
        )
      : null,
    rights.includes('care:read') ? api.GET('/api/courses/{courseId}/care-notes', { params, signal }) : null,
  ]);
  if (!register.data) throw new Refused('unknown', 'The register could not be loaded. Load the page again.');
  const serverTime = Date.parse(register.response.headers.get('date') ?? '');
  const skewMilliseconds = Number.isNaN(serverTime) ? 0 : serverTime - Date.now();
  return { register: register.data, bookings, care: care?.data?.notes ?? [], skewMilliseconds };
}

/** What is still to pay for somebody's place, and who pays it; null where nothing is or nobody may know. */
export function owedFor(personId: string, bookings: readonly Booking[] | null): Booking | null {
  const own = bookings?.find(
    ({ state, attendees }) => state !== 'cancelled' && attendees.some((one) => one.personId === personId),
  );
  return own && own.owedMinor > 0 ? own : null;
}
