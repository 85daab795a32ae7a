import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText } from './letter.js';

/** What is frozen of what a person owes for a reminder, in words: what is due, and nothing that is not due yet. */
export const ReminderData = z.object({
  due: z.string(),
  lines: z.array(z.object({ what: z.string(), amount: z.string(), since: z.string() })).min(1),
  /** a sentence for each way in which something of it is paid; reminders of when there was one hold that */
  howToPay: z.union([z.array(z.string()), z.string().transform((only) => [only])]),
});
export type ReminderData = z.output<typeof ReminderData>;

/** Asks calmly for what is due. It can cross with the money, and says so. */
export function reminderLetter({ due, lines, howToPay }: ReminderData, correspondents: Correspondents): Letter {
  return letterText(correspondents, `A reminder: ${due} to pay to ${correspondents.studio.name}`, [
    `According to our records ${due} is still to be paid:`,
    indented(lines.map(({ what, amount, since }) => `${what}, ${amount}, due ${since}`)),
    `How to pay:\n${indented(howToPay)}`,
    'If you have paid in the meantime, thank you, and please ignore this email.',
    'If something here is not right, or you would rather pay in instalments, just reply to this email.',
  ]);
}
