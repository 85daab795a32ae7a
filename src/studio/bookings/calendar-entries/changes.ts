import type { Entry, SentEntry } from './queries.js';

/** What somebody's calendar has to be told: a session that is new or otherwise than it was sent, or that is theirs no more. */
export type EntryChange = SentEntry & { method: 'REQUEST' | 'CANCEL' };

/** What differs between a calendar as it should be and as it was last sent; each change has a higher SEQUENCE than the one before. */
export function changesOf(wanted: readonly Entry[], sent: readonly SentEntry[]): EntryChange[] {
  const sentById = new Map(sent.map((entry) => [entry.sessionId, entry]));
  const wantedIds = new Set(wanted.map(({ sessionId }) => sessionId));
  const asked = wanted.flatMap((entry): EntryChange[] => {
    const before = sentById.get(entry.sessionId);
    if (before && !before.ended && isSame(before, entry)) return [];
    return [{ ...entry, sequence: before ? before.sequence + 1 : 0, ended: false, method: 'REQUEST' }];
  });
  const gone = sent
    .filter(({ sessionId, ended }) => !ended && !wantedIds.has(sessionId))
    .map((entry): EntryChange => ({ ...entry, sequence: entry.sequence + 1, ended: true, method: 'CANCEL' }));
  return [...gone, ...asked];
}

const isSame = (a: Entry, b: Entry) =>
  a.startsAt.getTime() === b.startsAt.getTime() &&
  a.endsAt.getTime() === b.endsAt.getTime() &&
  a.summary === b.summary &&
  a.location === b.location;
