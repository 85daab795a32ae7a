import { createHash } from 'node:crypto';
import { Problem } from '../problems.js';

/**
 * The strong entity tag (RFC 9110 s.8.8.3) of what an address shows: a hash of its content, whatever the order of its fields, so that
 * what is read from a row, and an answer that was kept as jsonb, bear the same one.
 */
export function etagOf(shown: unknown): string {
  const text = JSON.stringify(shown, (_, value) => (isRecord(value) ? sorted(value) : value));
  return `"${createHash('sha256').update(text).digest('base64url').slice(0, 27)}"`;
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const sorted = (record: Record<string, unknown>) =>
  Object.fromEntries(Object.entries(record).sort(([a], [b]) => (a < b ? -1 : 1)));

/** A tag may hold commas, so that a list of them can't be split at these. */
const TAG = '(?:W/)?"[\\x21\\x23-\\x7e\\x80-\\xff]*"';
const LIST = new RegExp(`^[ \\t,]*${TAG}(?:[ \\t]*,[ \\t,]*${TAG})*[ \\t,]*$`);

/** `*`, or the tags of a list, each with the W/ that a weak one has. @throws Problem malformed */
function tagsIn(name: string, header: string): '*' | string[] {
  if (header.trim() === '*') return '*';
  if (!LIST.test(header))
    throw new Problem('malformed', `${name} takes *, or tags in double quotes with commas between them.`);
  return header.match(new RegExp(TAG, 'g')) ?? [];
}

/** @throws Problem malformed, so that what can't be read is refused before anything is done */
export const assertReadable = (name: string, header: string): void => void tagsIn(name, header);

/** If-Match (RFC 9110 s.13.1.1) compares strongly: a weak tag matches nothing. `current` is null where nothing is there. */
export function matchesStrongly(header: string, current: string | null): boolean {
  const tags = tagsIn('If-Match', header);
  return current !== null && (tags === '*' || tags.includes(current));
}

/** If-None-Match (s.13.1.2) compares weakly: W/"a" and "a" are the same. */
export function matchesWeakly(header: string, current: string | null): boolean {
  const tags = tagsIn('If-None-Match', header);
  return current !== null && (tags === '*' || tags.some((tag) => tag.replace(/^W\//, '') === current));
}

type Conditions = { 'if-match'?: string | undefined; 'if-none-match'?: string | undefined };

/**
 * Refuses a change by somebody who has not seen what they change. What is not there yet is made with If-None-Match: *, so that of
 * two who make it at once only one does.
 * @throws Problem tag-required where neither is sent, changed-meanwhile where it does not hold
 */
export function assertSeen(headers: Conditions, current: string | null): void {
  const [match, noneMatch] = [headers['if-match'], headers['if-none-match']];
  if (match === undefined && noneMatch?.trim() !== '*')
    throw new Problem(
      'tag-required',
      current === null
        ? 'Nothing is here yet. Send If-None-Match: * to make it.'
        : 'Look it up first, and send its ETag as If-Match with what you change: nobody’s change is lost that way.',
    );
  if (match !== undefined && !matchesStrongly(match, current))
    throw new Problem(
      'changed-meanwhile',
      'Nothing was saved: somebody changed this since you read it. Look it up again, and send your change with its new ETag as If-Match.',
    );
  if (noneMatch !== undefined && matchesWeakly(noneMatch, current))
    throw new Problem(
      'changed-meanwhile',
      'Nothing was saved: it is there already. Look it up, and send your change with its ETag as If-Match.',
    );
}
