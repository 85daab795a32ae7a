import { z } from 'zod';

// The words of every contract. Each limit is stated once, here.

export const Id = z.uuid();

/** A line that a person typed: no control characters, so that it fits a paper, a mail header and a CSV cell. */
export const Line = (max = 200) =>
  z
    .string()
    .trim()
    .min(1)
    .max(max)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: refusing them is the point
    .regex(/^[^\u0000-\u001f\u007f]*$/, 'must be one line of text');

/** Text of several lines; PostgreSQL can't keep the character NUL. */
export const Text = (max = 2000) =>
  z
    .string()
    .max(max)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: refusing it is the point
    .regex(/^[^\u0000]*$/, 'must not contain the character NUL');

export const Email = z.email().max(254);

/** Whole minor units (pence, cents). 10 million major units are more than a small studio moves. */
export const MINOR_MAX = 1_000_000_000;
export const Minor = z.int().min(0).max(MINOR_MAX);
export const SignedMinor = z.int().min(-MINOR_MAX).max(MINOR_MAX);

/** A rate or a measure as a decimal string: a binary float would change it on the way. */
export const Decimal = z
  .string()
  .regex(/^\d{1,9}(\.\d{1,6})?$/, { error: 'must be a decimal such as "27.35"', abort: true });
export const Percent = Decimal.refine((p) => Number(p) <= 100, 'must be at most 100');

export const LocalDate = z.iso.date();
export const Instant = z.iso.datetime({ offset: true });
