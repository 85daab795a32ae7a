import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText } from './letter.js';
import { howToPayIn, LetterPayment, safetyAdvice, Visit, whenAndWhere } from './visit.js';

/** What is frozen of a session on the day before it. */
export const DayBeforeData = Visit.extend({
  /** the day of the session, as a date: the letter may be read late */
  day: z.string(),
  /** what is still to pay for the course, and by which days; only to who pays */
  balance: z.array(LetterPayment),
  /** whether more sessions of the course follow */
  isFirstOfSeveral: z.boolean(),
});

/** Says when and where somebody comes tomorrow, what to wear, and what is still to pay. */
export function dayBeforeLetter(data: z.output<typeof DayBeforeData>, correspondents: Correspondents): Letter {
  const { course, day, balance, isFirstOfSeveral } = data;
  return letterText(correspondents, `${day}: ${course}`, [
    isFirstOfSeveral
      ? `${course} begins on ${day}. We look forward to seeing you.`
      : `We look forward to seeing you for ${course} on ${day}.`,
    ...whenAndWhere(data, correspondents),
    balance.length === 0 ? null : `Still to pay:\n${indented(balance.map(({ amount, by }) => `${amount} by ${by}`))}`,
    balance.length === 0 ? null : howToPayIn(data),
    ...safetyAdvice(data),
    'If you can’t come after all, tell us as early as you can: just reply to this email.',
  ]);
}
