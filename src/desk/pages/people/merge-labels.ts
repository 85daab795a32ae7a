import type { Schemas } from '../../api/client';
import { count, type Formatter } from '../../format/formatter';

type Person = Schemas['Person'];
type Outcome = Schemas['MergeOutcome'];
export type MergedField = Outcome['taken'][number];
type Moved = Outcome['merge']['moved'][number];

/** What two entries may say differently, in the order in which it is asked. */
export const FIELDS: readonly (readonly [MergedField, string])[] = [
  ['name', 'Name'],
  ['paperName', 'Name on papers'],
  ['email', 'Email'],
  ['phone', 'Phone'],
  ['addressLines', 'Address'],
  ['memberSince', 'Member since'],
  ['isChild', 'Age'],
  ['wishes', 'Wishes'],
  ['note', 'Note for the studio'],
];

/** What an entry says of a field, on one line; nothing where it says nothing. */
export function fieldInWords(person: Person, field: MergedField, { fullDate }: Formatter): string {
  if (field === 'addressLines') return person.addressLines.join(', ');
  if (field === 'memberSince') return person.memberSince ? fullDate(person.memberSince) : '';
  if (field === 'isChild') return person.isChild ? 'A child' : 'Grown up';
  return person[field] ?? '';
}

const WORDS: Record<Moved['what'], readonly [string, string?]> = {
  bookings: ['booking'],
  places: ['place on a course', 'places on courses'],
  cancelledPlaces: ['cancelled place'],
  waits: ['entry of a waiting list', 'entries of waiting lists'],
  makeUps: ['session made up', 'sessions made up'],
  attendances: ['line of a register', 'lines of registers'],
  charges: ['charge'],
  payments: ['payment'],
  postings: ['line of the books', 'lines of the books'],
  vouchers: ['voucher'],
  letters: ['letter'],
  pieces: ['piece of ware', 'pieces of ware'],
  calendarEntries: ['calendar entry', 'calendar entries'],
  firingShares: ['share of a firing', 'shares of firings'],
  firingBills: ['bill for a firing', 'bills for firings'],
  careNotes: ['note on health'],
  consents: ['consent'],
  memberships: ['membership', 'memberships'],
  careNoteChanges: ['line of who noted it', 'lines of who noted it'],
  merges: ['earlier entry', 'earlier entries'],
  other: ['other line', 'other lines'],
};

/** "Two bookings", "3 letters" */
export const movedInWords = ({ what, rows }: Moved): string => {
  const [one, many] = WORDS[what];
  return count(rows, one, many);
};
