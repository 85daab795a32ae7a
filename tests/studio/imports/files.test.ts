import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { parseRows } from '../../../src/studio/imports/csv-table.js';
import { peopleImport } from '../../../src/studio/imports/people.js';
import { testApp } from '../../support/app.js';
import { listSender } from '../../support/fixtures/lists.js';
import { studioFixture } from '../../support/fixtures.js';

const at = await testApp();
const { db, owner } = at;
let send: Awaited<ReturnType<typeof listSender>>;
beforeAll(async () => {
  await studioFixture(owner);
  send = await listSender(at);
});
const check = (file: string | Buffer, kind = 'people') => send(`/api/imports/${kind}/check`, file);
const told = async (file: string | Buffer, kind?: string) => (await check(file, kind)).json();
const UTF_16_MARK = '\ufeff';

describe('a file', () => {
  test('is read with or without a byte order mark, whatever separates its cells and ends its lines', async () => {
    const cells = [
      ['Name', ' E-Mail '],
      ['Duval; Ines, "the 2nd"', 'ines@example.org'],
    ];
    const what = 'Duval; Ines, "the 2nd", ines@example.org';
    for (const delimiter of [',', ';', '\t'])
      for (const record_delimiter of ['\r\n', '\n', '\r'])
        for (const bom of [false, true])
          expect(await told(stringify(cells, { delimiter, record_delimiter, bom }))).toEqual({
            ...{ rows: 1, adds: [{ row: 2, what }], problems: [] },
          });
  });

  test('in another character set is refused with how to save it', async () => {
    const text = 'name\r\nInes\r\nBézier\r\n';
    for (const [file, why] of [
      [Buffer.from(text, 'latin1'), /^Line 3 has a character that is not in UTF-8\. Save it again as CSV/], // as Windows-1252 has é
      [Buffer.from(UTF_16_MARK + text, 'utf16le'), /^The file is in UTF-16\. Save it again/],
      [Buffer.from(UTF_16_MARK + text, 'utf16le').swap16(), /^The file is in UTF-16/],
      [Buffer.from(text, 'utf16le'), /^The file is in UTF-16/],
      [Buffer.from('PK\u0003\u0004\u0014\u0000'), /a spreadsheet file, not CSV/],
    ] as const) {
      const answer = await check(file);
      expect(answer.json()).toMatchObject({ type: '/problems/wrong-media-type', status: 415 });
      expect(answer.json().detail).toMatch(why);
    }
    expect((await told(Buffer.from(text))).adds).toHaveLength(2);
  });

  test('of another kind, or of none, is refused', async () => {
    for (const type of ['application/json', 'text/plain'])
      expect((await send('/api/imports/people', '{}', { type })).json()).toMatchObject({
        ...{ status: 415, detail: 'Send the list as text/csv, in UTF-8. Nothing was changed.' },
      });
    expect((await told('')).problems).toMatchObject([{ row: 1, detail: expect.stringMatching(/have the headings/) }]);
    // CSV is taken here alone
    expect((await send('/api/people', 'name\r\nInes')).statusCode).toBe(415);
  });

  test('that is too long is refused with the limit and what to do', async () => {
    const rows = (number: number) => `name\r\n${Array.from({ length: number }, (_, i) => `Person ${i}\r\n`).join('')}`;
    expect((await told(rows(5000))).rows).toBe(5000);
    for (const number of [5001, 100_000])
      expect((await check(rows(number))).json()).toMatchObject({
        ...{ type: '/problems/too-large', status: 413 },
        detail: expect.stringMatching(/^The list has more than 5000 rows\. Split it into lists of at most 5000/),
      });
    expect((await check(Buffer.alloc(5 * 1024 * 1024 + 1, 'a'))).json()).toMatchObject({
      ...{ type: '/problems/too-large', status: 413, detail: expect.stringMatching(/^The file is larger than 5 MB/) },
    });
    expect((await check('\n'.repeat(5 * 1024 * 1024))).statusCode).toBe(413);
  });

  test('with a quote that is never closed, or stands inside a cell, says in which row', async () => {
    expect((await told('name\r\nInes\r\n"Bo\r\nOdile\r\n')).problems).toEqual([
      { row: 3, column: null, detail: expect.stringMatching(/never ends with one/) },
    ]);
    expect((await told('name\r\nInes\r\na "big" bowl\r\nOdile\r\n')).problems).toEqual([
      { row: 3, column: null, detail: expect.stringMatching(/Put the whole cell in quotes and double/) },
    ]);
    expect((await told('name,phone\r\nInes\r\nBo,1,2\r\n')).problems.map(({ row }: { row: number }) => row)).toEqual([
      2, 3,
    ]);
  });

  test('without the right headings names them', async () => {
    const problems = async (headings: string) => (await told(`${headings}\r\nInes,1,2\r\n`)).problems;
    expect(await problems('who,phone,phone')).toEqual([
      { row: 1, column: 'who', detail: expect.stringMatching(/No such heading is known.*name, email, phone/) },
      { row: 1, column: 'phone', detail: 'This heading is there twice. Remove one of the columns.' },
      { row: 1, column: 'name', detail: 'This column is needed: As the person writes it.' },
    ]);
    expect(await problems('Ines,1,2')).toMatchObject([
      { row: 1, detail: expect.stringMatching(/must have the headings/) },
    ]);
    expect(await problems('name,phone,')).toEqual([
      { row: 1, column: null, detail: 'Column 3 has no heading. Name it, or empty it.' },
    ]);
    expect((await told('name,,\r\nInes,,\r\n,,\r\n')).problems).toEqual([]); // as spreadsheets leave them
  });
});

test('what a writer of CSV writes of valid rows is read back the same', () => {
  const cell = fc.string({ unit: 'binary' }).map((text) => text.trim());
  const row = fc.record({ name: cell.map((text) => `-${text}`), phone: cell, address: cell });
  const manner = fc.record({
    delimiter: fc.constantFrom(',', ';', '\t'),
    record_delimiter: fc.constantFrom('\r\n', '\n', '\r'),
    quoted: fc.boolean(),
  });
  // unquoted, this writer leaves a line break bare where it isn't the one that ends its lines
  const oneLine = (text: string) => text.replace(/[\r\n]/g, ' ').trim();
  fc.assert(
    fc.property(fc.array(row, { minLength: 1, maxLength: 20 }), manner, (rows, how) => {
      const kept = rows.map(({ name, phone, address }) =>
        [name, phone, address].map((text) => (how.quoted ? text : oneLine(text))),
      );
      const { rows: read, problems } = parseRows(
        stringify([['name', 'phone', 'address'], ...kept], how),
        peopleImport.columns,
      );
      expect(problems).toEqual([]);
      expect(read.map(({ cells }) => Object.values(cells))).toEqual(kept);
    }),
    { seed: 20260310, numRuns: 300 },
  );
});

describe('five thousand rows', () => {
  const material = (i: number) => `Material ${i},clay,g,12.5 kg,7`;
  const list = (rows: string[]) => ['name,kind,unit,in a pack,days to come', ...rows].join('\r\n');
  const many = Array.from({ length: 5000 }, (_, i) => material(i));

  test('of which one near the end is wrong leave nothing behind', async () => {
    const spoilt = many.map((row, i) => (i === 4997 ? 'Material x,clay,lb,1,7' : row)); // row 4,999 of the spreadsheet
    const answer = await send('/api/imports/materials', list(spoilt));
    expect(answer.json().errors).toMatchObject([
      { row: 4999, column: 'unit' },
      { row: 4999, column: 'in a pack' },
    ]);
    expect(await db.material.count()).toBe(0);
  });

  test('that the database refuses at the last leave nothing behind either', async () => {
    await db.$executeRawUnsafe(`ALTER TABLE material ADD CONSTRAINT planted CHECK (name <> 'Material 4998')`);
    const answer = await send('/api/imports/materials', list(many));
    await db.$executeRawUnsafe('ALTER TABLE material DROP CONSTRAINT planted');
    expect([answer.statusCode, await db.material.count()]).toEqual([422, 0]);
  });

  test('are brought, of each kind, also where much else goes on', async () => {
    const bring = async (kind: string, file: string) =>
      expect((await send(`/api/imports/${kind}`, file)).json()).toEqual({ added: 5000 });
    await bring('materials', list(many));
    await bring(
      'people',
      ['name,Email,address', ...many.map((_, i) => `Person ${i},p${i}@example.org,A | B`)].join('\n'),
    );
    const lot = (_: string, i: number) => `Material ${i},Pit Lane,2026-03-01,25 kg,18.50`;
    await bring('lots', ['material,supplier,received on,quantity,cost', ...many.map(lot)].join('\n'));
  });
});
