import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText, sentenceOf } from './letter.js';
import { heldEarlier } from './session-moved.js';

/** What is frozen of a session that was added to a course. */
export const SessionAddedData = z.object({
  course: z.string(),
  attendees: z.array(z.string()),
  session: z.string(),
  /** what the owner says of it; null where that is nothing */
  note: z.string().nullable(),
  /** all sessions of the course, as they are now */
  sessions: z.array(z.string()).min(1),
  /** until when the place is held for its deposit, where that is earlier than was told before */
  heldUntil: z.string().optional(),
});

/** Says when and where one more session is. */
export function sessionAddedLetter(data: z.output<typeof SessionAddedData>, correspondents: Correspondents): Letter {
  const { course, attendees, session, note, sessions, heldUntil } = data;
  return letterText(correspondents, `One more session of ${course}`, [
    `${course} has one more session:\n${indented([session])}`,
    note === null ? null : sentenceOf(note),
    `All sessions of the course, as they are now:\n${indented(sessions)}`,
    heldEarlier(heldUntil),
    `This is for ${attendees.join(', ')}.`,
    'It costs nothing more. If you can’t come then, just reply to this email as early as you can.',
  ]);
}
