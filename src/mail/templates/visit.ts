import { z } from 'zod';
import { type Correspondents, indented } from './letter.js';

/** A sum and the day by which it is asked for, in words. */
export const LetterPayment = z.object({ amount: z.string(), by: z.string() });

/**
 * What somebody must know who comes to a course, frozen in words: for the letter of a booking and for that of a place confirmed. Letters
 * that were frozen before these were written lack the later ones.
 */
export const Visit = z.object({
  course: z.string(),
  sessions: z.array(z.string()).min(1),
  attendees: z.array(z.string()),
  /** null where the address is enough */
  directions: z.string().nullable().default(null),
  /** what the course's materials warn of, a sentence each */
  hazards: z.array(z.string()).default([]),
  howToPay: z.string().nullable().default(null),
  /** what the owner wrote for the students of the course */
  note: z.string().nullable().default(null),
  /** what is refunded to somebody who cancels, a line for each tier, and what becomes of a place that is filled again */
  refundTerms: z
    .object({ tiers: z.array(z.string()), filledAgain: z.string() })
    .nullable()
    .default(null),
});
export type Visit = z.output<typeof Visit>;

/** "your place", "your 2 places" */
export const placesSentence = ({ attendees }: Pick<Visit, 'attendees'>) =>
  attendees.length > 1 ? `your ${attendees.length} places` : 'your place';

/** When, where, and who is coming. */
export function whenAndWhere(
  { sessions, attendees, directions, note }: Visit,
  { studio }: Correspondents,
): (string | null)[] {
  return [
    `When:\n${indented(sessions)}`,
    `Where:\n${indented([studio.name, ...studio.addressLines])}`,
    directions,
    note,
    attendees.length > 0 ? `Who’s coming:\n${indented(attendees)}` : null,
  ];
}

/** What to wear, how we keep the dust down, and which materials need care. */
export const safetyAdvice = ({ hazards }: Pick<Visit, 'hazards'>): (string | null)[] => [
  ...WHAT_TO_WEAR,
  hazards.length === 0 ? null : `Some of what we use on this course needs care:\n${indented(hazards)}`,
];

const WHAT_TO_WEAR = [
  'Please wear old clothes and closed shoes. Tie long hair back, and leave rings and bracelets at home.',
  'Clay dust is harmful to breathe, so we clean up with water: please don’t sweep or dry-sand. If you have asthma or an allergy, or are pregnant, let us know before you come.',
];

export const howToPayIn = ({ howToPay }: Pick<Visit, 'howToPay'>) =>
  howToPay === null ? null : `How to pay:\n${indented([howToPay])}`;

/** How to cancel, and what is refunded then. */
export function ifYouCancel({ refundTerms }: Visit): string {
  const tell = 'If you can’t come, tell us as early as you can: just reply to this email.';
  if (refundTerms === null) return tell;
  return `${tell} What we then refund:\n${indented(refundTerms.tiers)}\n${refundTerms.filledAgain}`;
}
