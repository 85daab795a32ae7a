import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText } from './letter.js';

/** What is frozen of a session that was moved to another time or room. */
export const SessionMovedData = z.object({
  course: z.string(),
  attendees: z.array(z.string()),
  before: z.string(),
  after: z.string(),
  /** why, as the owner says it; null where nothing was said */
  reason: z.string().nullable(),
  /** all sessions of the course, as they are now */
  sessions: z.array(z.string()).min(1),
  /** several sessions are told of in `before` and `after`, a line each */
  areSeveral: z.boolean().optional(),
  /** until when the place is held for its deposit, where that is earlier than was told before */
  heldUntil: z.string().optional(),
});

/** Says when a session was to be, and when and where it is now. */
export function sessionMovedLetter(data: z.output<typeof SessionMovedData>, correspondents: Correspondents): Letter {
  const { course, attendees, before, after, reason, sessions, heldUntil, areSeveral } = data;
  const [what, they] = areSeveral ? ['sessions', 'They were'] : ['a session', 'It was'];
  return letterText(correspondents, `Moved: ${what} of ${course}`, [
    `We have had to move ${what} of ${course}. We’re sorry for the trouble.`,
    `${they} to be:\n${indented(before.split('\n'))}`,
    `${areSeveral ? 'They are' : 'It is'} now:\n${indented(after.split('\n'))}`,
    reason,
    sessions.length > 1 ? `All sessions of the course, as they are now:\n${indented(sessions)}` : null,
    heldEarlier(heldUntil),
    `This is for ${attendees.join(', ')}.`,
    'You need do nothing if the new time suits you. If you can’t come then, just reply to this email as early as you can, and we’ll find a way.',
  ]);
}

/** Said where a course begins before a hold was to end. */
export const heldEarlier = (until: string | undefined): string | null =>
  until === undefined
    ? null
    : `As the course begins earlier now, your place is held only until ${until}. Please pay the deposit before then, or the place is free for somebody else.`;
