import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import type { PersonAt } from '../person-form';
import type { CareNoteRead } from './care-note';
import type { GuardiansRead } from './guardians';

/** So many of each are asked for; where there are more, the page says so. */
const AT_MOST = 200;

type Part<T> = { items: T[]; total: number; totalIsMinimum: boolean };
export type Booking = Schemas['ListedBooking'];
export type Piece = Schemas['ListedPiece'];
export type Charge = Schemas['ListedCharge'];
export type Payment = Schemas['ListedPayment'];
type Membership = Schemas['Membership'];

/** A person with what they booked, made and owe; null is what somebody without that right may not see. */
export type PersonRead = PersonAt & {
  bookings: Part<Booking> | null;
  pieces: Part<Piece> | null;
  charges: Part<Charge> | null;
  payments: Part<Payment> | null;
  care: CareNoteRead | null;
  guardians: GuardiansRead;
  consents: Schemas['Consent'][];
  merges: Schemas['Merge'][];
  doubles: Schemas['Double'][];
  memberships: Part<Membership> | null;
};

export async function readPerson(personId: string, { rights }: Me, signal: AbortSignal): Promise<PersonRead> {
  const seesMoney = rights.includes('money:read');
  const seesWare = rights.includes('ware:read');
  const most = { limit: AT_MOST };
  const [person, bookings, pieces, charges, payments, care, merges, doubles, memberships, guardians, consents] =
    await Promise.all([
      api.GET('/api/people/{personId}', { params: { path: { personId } }, signal }),
      seesMoney ? api.GET('/api/bookings', { params: { query: { ...most, personId } }, signal }) : null,
      seesWare
        ? api.GET('/api/pieces', { params: { query: { ...most, makerId: personId, order: 'newest' } }, signal })
        : null,
      seesMoney ? api.GET('/api/charges', { params: { query: { ...most, personId, state: 'open' } }, signal }) : null,
      seesMoney ? api.GET('/api/payments', { params: { query: { ...most, personId } }, signal }) : null,
      rights.includes('care:write')
        ? api.GET('/api/people/{personId}/care-note', { params: { path: { personId } }, signal })
        : null,
      rights.includes('people:write')
        ? api.GET('/api/people/{personId}/merges', { params: { path: { personId } }, signal })
        : null,
      rights.includes('people:write') ? api.GET('/api/doubles', { params: { query: { personId } }, signal }) : null,
      seesMoney
        ? api.GET('/api/memberships', { params: { query: { ...most, personId, which: 'all' } }, signal })
        : null,
      api.GET('/api/people/{personId}/guardians', { params: { path: { personId } }, signal }),
      api.GET('/api/people/{personId}/consents', { params: { path: { personId } }, signal }),
    ]);
  if (!person.data || !guardians.data)
    throw new Refused('unknown', 'This person could not be loaded. Load the page again.');
  return {
    person: person.data,
    etag: person.response.headers.get('etag') ?? '',
    bookings: bookings?.data ?? null,
    pieces: pieces?.data ?? null,
    charges: charges?.data ?? null,
    payments: payments?.data ?? null,
    care: care?.data ? { ...care.data, etag: care.response.headers.get('etag') ?? '' } : null,
    guardians: { ...guardians.data, etag: guardians.response.headers.get('etag') ?? '' },
    consents: consents.data?.items ?? [],
    merges: merges?.data?.items ?? [],
    doubles: doubles?.data?.items ?? [],
    memberships: memberships?.data ?? null,
  };
}
