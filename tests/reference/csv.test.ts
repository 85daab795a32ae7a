import { describe, expect, test } from 'vitest';
import { csvOf } from '../../src/http/csv.js';
import { parseRows } from '../../src/studio/imports/csv-table.js';
import { peopleImport } from '../../src/studio/imports/people.js';

// RFC 4180 (Y. Shafranovich, 2005, rfc-editor.org/rfc/rfc4180), section 2, its examples one by one. aaa, bbb and ccc are headings here.
const column = (heading: string) => ({
  ...(peopleImport.columns[1] as (typeof peopleImport.columns)[number]),
  heading,
});
const headings = [column('aaa'), column('bbb'), column('ccc')];
const read = (text: string) => parseRows(text, headings);
const cells = (text: string) => read(text).rows.map((row) => Object.values(row.cells));
const CRLF = '\r\n';

describe('RFC 4180 section 2', () => {
  test('1: each record stands on a line of its own, ended by a line break', () => {
    expect(cells(`aaa,bbb,ccc${CRLF}zzz,yyy,xxx${CRLF}`)).toEqual([['zzz', 'yyy', 'xxx']]);
  });
  test('2: the last one may have no line break', () => {
    expect(cells(`aaa,bbb,ccc${CRLF}zzz,yyy,xxx`)).toEqual([['zzz', 'yyy', 'xxx']]);
  });
  test('3 and 4: a header line comes first, and each line has as many fields', () => {
    expect(read(`aaa,bbb,ccc${CRLF}zzz,yyy${CRLF}`)).toMatchObject({ rows: [], problems: [{ row: 2 }] });
  });
  test('5: each field may be in quotes or not', () => {
    expect(cells(`"aaa","bbb","ccc"${CRLF}zzz,yyy,xxx`)).toEqual([['zzz', 'yyy', 'xxx']]);
    expect(read(`aaa,bbb,ccc${CRLF}zz"z,yyy,xxx`).problems).toMatchObject([{ row: 2 }]);
  });
  test('6: line breaks, quotes and commas stand in quotes', () => {
    expect(cells(`aaa,bbb,ccc${CRLF}"zzz","b${CRLF}bb","x,xx"`)).toEqual([['zzz', `b${CRLF}bb`, 'x,xx']]);
  });
  test('7: a quote inside quotes is doubled', () => {
    expect(cells(`aaa,bbb,ccc${CRLF}"zzz","b""bb","xxx"`)).toEqual([['zzz', 'b"bb', 'xxx']]);
  });
  test('what is written keeps to it, and is read back', () => {
    const text = csvOf([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', `b${CRLF}"bb"`, 'x,xx'],
    ]);
    expect(cells(text.replace('\ufeff', ''))).toEqual([['zzz', `b${CRLF}"bb"`, 'x,xx']]);
  });
});
