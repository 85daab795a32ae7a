import type { Schemas } from '../../../api/client';

export type StaffEntry = Schemas['StaffEntry'];
/** Somebody with the link that was just made for them. */
export type NewLink = Schemas['StaffEntryWithLink'];

/** What is done at the moment: one thing at a time, above the list. */
export type Deed =
  | { doing: 'invite' }
  | { doing: 'show'; link: NewLink }
  | { doing: 'change'; member: StaffEntry }
  | { doing: 'remove'; member: StaffEntry };
