import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText, sentenceOf } from './letter.js';

/** What is frozen of a session that somebody makes up in another course, in words. */
export const MakeUpData = z.object({
  attendee: z.string(),
  /** whether the letter goes to that person, not to who pays for them */
  isPayer: z.boolean(),
  course: z.string(),
  missed: z.string(),
  there: z.string(),
  session: z.string(),
  directions: z.string().nullable(),
  /** what the owner wrote for the students of the course where they come */
  note: z.string().nullable(),
});
type MakeUpData = z.output<typeof MakeUpData>;

export const MakeUpEndedData = MakeUpData.extend({ reason: z.string().nullable() });

/** Says when and where a missed session is made up. */
export function makeUpLetter(data: MakeUpData, correspondents: Correspondents): Letter {
  const { course, missed, there, session, directions, note } = data;
  const { studio } = correspondents;
  return letterText(correspondents, `Making up a session of ${course}`, [
    `${who(data)} a place in another course, to make up the session of ${course} on ${missed}. There is nothing more to pay.`,
    `When:\n${indented([session])}`,
    `The course is called ${there}.`,
    `Where:\n${indented([studio.name, ...studio.addressLines])}`,
    directions,
    note,
    'If you can’t come then, tell us as early as you can: just reply to this email.',
  ]);
}

/** Says that a place to make up a session is no longer kept. */
export function makeUpEndedLetter(data: z.output<typeof MakeUpEndedData>, correspondents: Correspondents): Letter {
  const { course, missed, there, session, reason } = data;
  return letterText(correspondents, `Not taking place for you: ${there}`, [
    `${data.isPayer ? 'Your place' : `${data.attendee}’s place`} to make up the session of ${course} on ${missed} is no longer kept. It was on ${session}, in ${there}.`,
    reason === null ? null : sentenceOf(reason),
    'If you would like to make it up on another day, just reply to this email, and we’ll look for one.',
  ]);
}

const who = ({ attendee, isPayer }: MakeUpData) => (isPayer ? 'You have' : `${attendee} has`);
