import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText, sentenceOf } from './letter.js';

/** What is frozen of a course that is cancelled as a whole, for somebody who is told of it. */
export const CourseCancelledData = z.object({
  course: z.string(),
  /** its days */
  dates: z.string(),
  /** why, as the owner says it */
  reason: z.string(),
  /** who pays a booking, comes on one that somebody else pays, waits for a place, or was offered one */
  role: z.enum(['payer', 'attendee', 'waiting', 'offered']),
  /** whose places they were; nobody where they only waited */
  attendees: z.array(z.string()),
  /** what was paid and is given back, and how; null where nothing was, and where the letter goes to somebody who doesn't pay */
  refund: z.object({ amount: z.string(), parts: z.array(z.string()).min(1), creditNoteNumber: z.string() }).nullable(),
  /** what was kept of places that were cancelled before; null where nothing was */
  kept: z.string().nullable(),
  /** other courses with places left */
  others: z.array(z.string()),
});
export type CourseCancelledData = z.output<typeof CourseCancelledData>;

/** Says that a course does not take place and why, what is given back and how, and which others have places. */
export function courseCancelledLetter(data: CourseCancelledData, correspondents: Correspondents): Letter {
  const { course, dates, reason, role, attendees, others } = data;
  return letterText(correspondents, `Cancelled: ${course}, ${dates}`, [
    `We’re sorry: ${course}, ${dates}, does not take place. ${sentenceOf(reason)}`,
    attendees.length === 0 ? null : `This is for ${attendees.join(', ')}.`,
    ...aboutMoney(data),
    WAITED[role],
    others.length === 0 ? null : `These courses have places left:\n${indented(others)}`,
    others.length === 0
      ? 'If you have a question, just reply to this email.'
      : 'If you would like one of them, or have a question, just reply to this email.',
  ]);
}

const WAITED: Record<CourseCancelledData['role'], string | null> = {
  payer: null,
  attendee: 'We have written to the person who booked for you about what was paid.',
  waiting: 'So you are no longer on the waiting list.',
  offered: 'So the place that we offered you is no longer kept for you, and you are no longer on the waiting list.',
};

function aboutMoney({ role, refund, kept }: CourseCancelledData): (string | null)[] {
  if (role !== 'payer') return [];
  const before = kept === null ? null : `What was kept of a place that was cancelled before, ${kept}, stays as it was.`;
  if (refund === null) return ['There is nothing to pay.', before];
  const { amount, parts, creditNoteNumber } = refund;
  const [only, ...more] = parts;
  const what = kept === null ? 'it' : 'the places that were left';
  const how = more.length === 0 ? `, ${only}.` : `:\n${indented(parts)}`;
  return [
    `We have refunded all that you paid for ${what}, ${amount}${how}`,
    before,
    'There is nothing more to pay.',
    `Credit note ${creditNoteNumber} is attached. Please keep it with the receipt that it corrects.`,
  ];
}
