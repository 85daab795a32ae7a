import type { Use } from './collection-content.js';
import { dateInWords } from './words.js';

export const DECORATIVE = 'Decorative, not for food or drink';

/** What goes with a piece, whoever gets it: the caution, or on whose word it may be used, in a sentence or two. */
export function useInWords(use: Use, locale: string): string {
  if (use.kind === 'decorative') return `${DECORATIVE}.`;
  if (use.kind === 'statement')
    return `The manufacturer of ${use.glaze} stated on ${dateInWords(use.on, locale)}: “${use.quote}” These are the manufacturer’s words; we have not tested the piece.`;
  return `Tested by ${use.laboratory} on ${dateInWords(use.on, locale)}, report ${use.report}: ${use.finding}`;
}
