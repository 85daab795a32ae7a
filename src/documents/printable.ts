import { SingleLine } from '../http/types.js';
import { unprintable } from './fonts.js';

/** A line that will stand on paper: what the font lacks is refused where it is entered, since a paper would show boxes. */
export const PrintedLine = (max = 200) =>
  SingleLine(max).superRefine((text, context) => {
    const missing = unprintable(text);
    if (missing.length > 0)
      context.addIssue({
        code: 'custom',
        message: `can't be printed: the font lacks ${missing.join(' ')}. Write it in Latin, Greek or Cyrillic letters.`,
      });
  });
