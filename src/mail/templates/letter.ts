import { wrap } from '../wrap.js';

/** Whom a letter goes to and who writes it. */
export type Correspondents = {
  studio: {
    name: string;
    addressLines: readonly string[];
    email: string | null;
    phone: string | null;
    /** who is behind the name, where a letter must say it */
    legal?: string | null;
  };
  personName: string;
};

export type Letter = { subject: string; text: string };

/** Indents lines that belong together, such as sessions. */
export const indented = (lines: readonly string[]) => lines.map((line) => `  ${line}`).join('\n');

/** As a sentence begins. */
export const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** What somebody typed as a sentence ends like one. */
export const sentenceOf = (text: string) => (/[.!?…]$/.test(text) ? text : `${text}.`);

/** A plain letter: greeting, paragraphs, and the studio as its signature. Empty paragraphs are left out. */
export function letterText(
  { studio, personName }: Correspondents,
  subject: string,
  paragraphs: readonly (string | null)[],
): Letter {
  const signature = ['-- ', studio.name, studio.addressLines.join(', '), studio.phone, studio.email];
  const body = [`Dear ${personName},`, ...paragraphs.filter((paragraph) => paragraph !== null)].join('\n\n');
  if (studio.legal) signature.push(wrap(studio.legal));
  const end = signature.filter((line) => line !== null && line !== '').join('\n');
  return { subject, text: `${wrap(body)}\n\n${end}\n` };
}
