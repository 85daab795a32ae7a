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
});

/** Says when a session was to be, and when and where it is now. */
export function sessionMovedLetter(data: z.output<typeof SessionMovedData>, correspondents: Correspondents): Letter {
  const { course, attendees, before, after, reason, sessions } = data;
  return letterText(correspondents, `Moved: a session of ${course}`, [
    `We have had to move a session of ${course}. We’re sorry for the trouble.`,
    `It was to be:\n${indented([before])}`,
    `It is now:\n${indented([after])}`,
    reason,
    sessions.length > 1 ? `All sessions of the course, as they are now:\n${indented(sessions)}` : null,
    `This is for ${attendees.join(', ')}.`,
    'You need do nothing if the new time suits you. If you can’t come then, just reply to this email as early as you can, and we’ll find a way.',
  ]);
}
