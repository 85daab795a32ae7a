import type { CollectionContent, Use } from './collection-content.js';
import { DECORATIVE, useInWords } from './use-words.js';

const MANY_CODES = 12;

export type Evidence = { use: Exclude<Use, { kind: 'decorative' }>; number: number; codes: string[] };

/** Statements and tests, each once however many pieces rest on it, numbered in the order in which they first occur. */
export function evidenceOf(pieces: CollectionContent['pieces']): Evidence[] {
  const found = new Map<string, Evidence>();
  for (const { code, use } of pieces) {
    if (use.kind === 'decorative') continue;
    const key = JSON.stringify(use);
    const known = found.get(key);
    if (known) known.codes.push(code);
    else found.set(key, { use, number: found.size + 1, codes: [code] });
  }
  return [...found.values()];
}

/** What the table says about a piece: its caution, or where its evidence is written out. */
export function useInShort(use: Use, evidence: readonly Evidence[]): string {
  if (use.kind === 'decorative') return DECORATIVE;
  const number = evidence.find((e) => JSON.stringify(e.use) === JSON.stringify(use))?.number;
  return use.kind === 'statement'
    ? `Glaze manufacturer’s statement: see note ${number}`
    : `Laboratory test: see note ${number}`;
}

/** The evidence itself: a statement in its manufacturer's words and as theirs, a test by what was found. */
export function evidenceInWords({ use, codes, number }: Evidence, locale: string): string {
  const pieces = codes.length > MANY_CODES ? `All pieces marked “note ${number}”` : codes.join(', ');
  return `${pieces}: ${useInWords(use, locale).replace(/^T/, 't')}`;
}

/** Cautions for all fired work; common practice of studios, so that they name no source. */
export const USE_CAUTIONS = [
  'Feel feet and rims first: fired edges and stilt marks can be as sharp as glass.',
  'No food or drink in decorative pieces, nor in any with a chipped or crazed glaze.',
  'Warm mugs and pots first: no boiling water into a cold piece, no open flame.',
  'No lustre or metal in a microwave oven; wet or unglazed ware gets very hot.',
  'Unglazed clay lets water through and can scratch furniture: use a mat.',
  'Only a laboratory test shows what a piece gives off to food.',
] as const;
