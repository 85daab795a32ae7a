import { z } from 'zod';
import { type Correspondents, indented, type Letter, letter } from './letter.js';

/** What is frozen of what a person owes for a reminder, in words: what is due, and nothing that is not due yet. */
export const ReminderData = z.object({
  due: z.string(),
  lines: z.array(z.object({ what: z.string(), amount: z.string(), since: z.string() })).min(1),
  howToPay: z.string(),
});
export type ReminderData = z.output<typeof ReminderData>;

/** Asks calmly for what is due. It can cross with the money, and says so. */
export function reminderLetter({ due, lines, howToPay }: ReminderData, correspondents: Correspondents): Letter {
  return letter(correspondents, `${due} is due at ${correspondents.studio.name}: a reminder`, [
    `We have not received ${due} yet, and would like to remind you of it:`,
    indented(lines.map(({ what, amount, since }) => `${what}: ${amount}, due since ${since}`)),
    `How to pay:\n${indented([howToPay])}`,
    'If you have paid in the meantime, thank you: nothing more is asked of you.',
    'If something here is not right, or you would rather pay in parts, please ask us: an answer to this message is enough.',
  ]);
}
