import { isUtf8 } from 'node:buffer';
import { Problem } from '../../problems.js';

const SAVE = 'Save it again as CSV and choose UTF-8 as its character set. Nothing was changed.';
const LINE_FEED = 0x0a;

/**
 * The text of a file that somebody sends. Bytes that aren't UTF-8 are refused, and never guessed at: a name read in another
 * character set would be wrong in the books, and nobody would notice.
 *
 * @throws Problem wrong-media-type, which says how to save it
 */
export function decodeText(file: Buffer): string {
  if (file.subarray(0, 4).equals(Buffer.from('PK\u0003\u0004')))
    throw refused('This is a spreadsheet file, not CSV. Open it, and save the one sheet as CSV with UTF-8.');
  const mark = file.subarray(0, 2).toString('hex');
  if (mark === 'fffe' || mark === 'feff' || file.includes(0)) throw refused(`The file is in UTF-16. ${SAVE}`);
  if (!isUtf8(file)) throw refused(`Line ${firstBad(file)} has a character that is not in UTF-8. ${SAVE}`);
  return new TextDecoder().decode(file); // takes a byte order mark away
}

const refused = (detail: string) => new Problem('wrong-media-type', detail);

/** The first line, from 1, whose bytes aren't UTF-8; a line break is never a part of a longer sign. */
function firstBad(file: Buffer): number {
  let line = 1;
  for (let from = 0; from < file.length; line++) {
    const end = file.indexOf(LINE_FEED, from);
    if (!isUtf8(file.subarray(from, end < 0 ? undefined : end))) break;
    from = end < 0 ? file.length : end + 1;
  }
  return line;
}
