import { inTransaction } from '../../../database/transaction.js';
import type { Enclose } from '../../../mail/post.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import type { Occasion } from '../../notices/contract.js';
import { getStudio } from '../../settings/service.js';
import { changesOf } from './changes.js';
import { invitationFile } from './invitation.js';
import { listEntriesOf, listSentEntries, saveSentEntry } from './queries.js';

/** The letters that speak of when somebody comes. A receipt or a reminder carries nothing but itself. */
const ABOUT_SESSIONS: ReadonlySet<string> = new Set<Occasion>([
  'booking',
  'placeConfirmed',
  'bookingCancelled',
  'placeCancelled',
  'bookingMoved',
  'courseCancelled',
  'refund',
  'sessionMoved',
  'sessionCancelled',
  'sessionAdded',
  'makeUp',
  'makeUpEnded',
  'paymentReversed',
  'dayBefore',
]);

/**
 * Puts into a letter about sessions what keeps its reader's own calendar true: an invitation to each session that is new to them or was
 * changed, and what takes those out that are not theirs any more. It goes by how things stand when the letter is sent, so that two
 * letters that wait at once don't contradict each other.
 */
export const encloseInvitations: Enclose = async ({ db, now }, { personId, mailbox: to, occasion }, from) => {
  if (!ABOUT_SESSIONS.has(occasion)) return null;
  const at = now();
  const studio = await getStudio(db);
  const where = [studio.name, ...studio.addressLines].join(', ');
  const changes = changesOf(await listEntriesOf(db, personId, at, where), await listSentEntries(db, personId, at));
  if (changes.length === 0) return null;
  const about = { from, to, description: studio.directions, now: at };
  return {
    files: changes.map((change, i) => ({
      fileName: `${localDay(change.startsAt, studio.timeZone)}${change.ended ? '-cancelled' : ''}-${i + 1}.ics`,
      contentType: `text/calendar; charset=utf-8; method=${change.method}`,
      content: new TextEncoder().encode(invitationFile(change, about)),
    })),
    noteSent: () =>
      inTransaction(db, async (tx) => {
        for (const change of changes) await saveSentEntry(tx, personId, at, change);
      }),
  };
};
