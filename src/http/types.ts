import './validation-words.js';
import { z } from 'zod';

// The words of every contract. Each limit is stated once, here.

export const Id = z.uuid();

/**
 * Text of at most so many characters, which is judged before anything else. zod goes on with every later check of a text that is
 * too long, unless it is told to stop here; some of those checks cost the square of its length.
 */
export const UpTo = (max: number, text = z.string()) =>
  text.max(max, { error: `must have at most ${max} characters`, abort: true });

/** A line that a person typed: no control characters, so that it fits a paper, a mail header and a CSV cell. */
export const SingleLine = (max = 200) =>
  UpTo(max, z.string().trim())
    .min(1)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: refusing them is the point
    .regex(/^[^\u0000-\u001f\u007f]*$/, 'must be one line of text');

/** Text of several lines; PostgreSQL can't keep the character NUL. */
export const Text = (max = 2000) =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: refusing it is the point
  UpTo(max).regex(/^[^\u0000]*$/, 'must not contain the character NUL');

export const Email = UpTo(254).check(z.email());

/** Whole minor units (pence, cents). 10 million major units are more than a small studio moves. */
export const MINOR_MAX = 1_000_000_000;
export const Minor = z.int().min(0).max(MINOR_MAX);
/** A sum of amounts in an answer: it passes what a number holds exactly, 2^53, only after nine million of the largest. */
export const SumMinor = z.int().min(0);
export const SignedMinor = z.int().min(-MINOR_MAX).max(MINOR_MAX);

/** A rate or a measure as a decimal string: a binary float would change it on the way. */
export const DecimalText = z
  .string()
  .regex(/^\d{1,9}(\.\d{1,6})?$/, { error: 'must be a decimal such as "27.35"', abort: true });
export const Percent = DecimalText.refine((p) => Number(p) <= 100, 'must be at most 100');

/** A day within a lifetime or two: what lies outside is a slip of the keys, and the database knows no year 0. */
export const LocalDate = z.iso
  .date({ abort: true })
  .refine((day) => day >= '1900-01-01' && day <= '2199-12-31', 'must be a day from 1900-01-01 to 2199-12-31');
export const Instant = UpTo(40).check(z.iso.datetime({ offset: true }));
