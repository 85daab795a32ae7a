import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText, sentenceOf } from './letter.js';

/** What is frozen of a session that does not take place, while the course goes on. */
export const SessionCancelledData = z.object({
  course: z.string(),
  attendees: z.array(z.string()),
  /** when and where it was to be */
  session: z.string(),
  reason: z.string(),
  /** what is given back for it; null where nothing is, and where the letter goes to somebody who doesn't pay */
  back: z
    .object({
      amount: z.string(),
      /** of it, what comes off what is still to pay, and what is then left to pay; null where all is paid */
      off: z.object({ amount: z.string(), owed: z.string().nullable() }).nullable(),
      /** of it, what is refunded, and how; none where all of it comes off what is owed */
      parts: z.array(z.string()),
      creditNoteNumber: z.string().nullable(),
    })
    .nullable(),
  /** the sessions that take place */
  sessions: z.array(z.string()).min(1),
});
export type SessionCancelledData = z.output<typeof SessionCancelledData>;

/** Says which session does not take place and why, what is given back for it, and which do. */
export function sessionCancelledLetter(data: SessionCancelledData, correspondents: Correspondents): Letter {
  const { course, attendees, session, reason, back, sessions } = data;
  return letterText(correspondents, `Cancelled: a session of ${course}`, [
    `We’re sorry: one session of ${course} does not take place. ${sentenceOf(reason)}`,
    `This session is cancelled:\n${indented([session])}`,
    `This is for ${attendees.join(', ')}.`,
    ...(back === null ? [] : aboutMoney(back)),
    sessions.length === 1
      ? `The other session takes place:\n${indented(sessions)}`
      : `The other sessions take place:\n${indented(sessions)}`,
    'If you have a question, just reply to this email.',
  ]);
}

function aboutMoney({
  amount,
  off,
  parts,
  creditNoteNumber,
}: NonNullable<SessionCancelledData['back']>): (string | null)[] {
  const owed = off?.owed == null ? 'There is nothing more to pay.' : `What is still to pay is ${off.owed}.`;
  const [only, ...more] = parts;
  const how = more.length === 0 ? `, ${only}.` : `:\n${indented(parts)}`;
  return [
    off === null ? null : `For it we take ${off.amount} off what was still to pay for your booking. ${owed}`,
    only === undefined
      ? null
      : off === null
        ? `For it we have refunded ${amount} to you${how}`
        : `The rest we have refunded to you${how}`,
    creditNoteNumber === null
      ? null
      : `Credit note ${creditNoteNumber} is attached. Please keep it with the receipt that it corrects.`,
  ];
}
