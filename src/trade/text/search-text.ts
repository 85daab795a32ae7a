// What is searched and what is typed are brought into one form. The database's search_text() does the same to what it holds.

const MARKS = /[\u0300-\u036f'\u2018\u2019\u02bc]/g;
const BETWEEN_WORDS = /[\t-\r -/:-@[-`{-\u00bf\u2000-\u206f\u3000-\u3003]+/g;
/** Letters that Unicode does not take apart into a letter and a mark. */
const WRITTEN_AS: Record<string, string> = {
  ...{ ø: 'o', ł: 'l', đ: 'd', ð: 'd', ı: 'i', ς: 'σ', ß: 'ss', æ: 'ae', œ: 'oe' },
};

/** Text in small letters without accents, a space before each word. */
export function searchText(said: string): string {
  const plain = said.normalize('NFKD').replace(MARKS, '').toLowerCase();
  const letters = plain.replace(/[øłđðıςßæœ]/g, (letter) => WRITTEN_AS[letter] ?? letter);
  return ` ${letters.replace(BETWEEN_WORDS, ' ').trim()}`;
}

/** From so many letters on a part within a word is looked for: shorter ones are within almost every name. */
const INSIDE_FROM = 3;
const isShort = (word: string) => word.length < INSIDE_FROM && /^[a-z0-9]*$/.test(word);

/**
 * What each word typed has to be like, as LIKE has it: words of one or two letters begin a word, others may be inside one. None
 * where nothing typed can be searched for.
 */
export const searchPatterns = (typed: string): string[] =>
  wordsOf(typed).map((word) => (isShort(word) ? `% ${word}%` : `%${word}%`));

/** The same where each word typed has to begin a word. */
export const prefixPatterns = (typed: string): string[] => wordsOf(typed).map((word) => `% ${word}%`);

/** Digits of a phone number that are the same however the country and the area are written. */
const SAME_DIGITS = 9;

/** From so many digits on a number is looked for inside others: fewer are the beginning of one. */
const NUMBER_FROM = 4;
/** Calling codes of one and two digits; all others have three (ITU-T E.164, list of assigned country codes). */
const SHORT_CODES = /^(1|7|2[07]|3[0-469]|4[013-9]|5[1-8]|6[0-6]|8[1246]|9[0-58])/;

/** As searchPatterns; a phone number, or a part of one, may have other spaces than the one known, and a country code or none. */
export function personPatterns(typed: string): string[] {
  const digits = /^[\d\s()+./-]*$/.test(typed) ? typed.replace(/\D/g, '') : '';
  if (digits.length < NUMBER_FROM) return searchPatterns(typed);
  const national = withoutCountry(typed, digits).replace(/^0+/, '');
  return national.length < INSIDE_FROM ? searchPatterns(typed) : [`%${national.slice(-SAME_DIGITS)}%`];
}

/** The digits after the country code, where one was typed: after + or 00. */
function withoutCountry(typed: string, digits: string): string {
  const isAbroad = /^\s*(\+|00)/.test(typed);
  if (!isAbroad) return digits;
  const all = digits.replace(/^00/, '');
  const [code = all.slice(0, 3)] = SHORT_CODES.exec(all) ?? [];
  return all.slice(code.length);
}

/** Whether a word is long enough to be looked for inside others too. */
export const hasLongWord = (typed: string): boolean => wordsOf(typed).some((word) => !isShort(word));

const wordsOf = (typed: string) => searchText(typed).split(' ').filter(Boolean);
