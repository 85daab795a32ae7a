import fc from 'fast-check';
import { expect, test } from 'vitest';
import { searchText } from '../../../src/trade/text/search-text.js';
import { testDatabase } from '../../support/database.js';

const { db } = await testDatabase();
const toStoredPhoto = async (said: string[]) => {
  const rows = await db.$queryRaw<{ text: string }[]>`
    SELECT search_text(said) AS text FROM unnest(${said}::text[]) WITH ORDINALITY AS s (said, i) ORDER BY i`;
  return rows.map(({ text }) => text);
};

test('names are searched for in letters that everybody types', async () => {
  const said = [
    'Zoë  Duvál',
    'Sten O’Brien-Łuk',
    'Jørgen ÆRØ',
    'Weiß & Co.',
    'Κωστής ΚΩΣΤΉΣ',
    'Ёлка',
    'zoe@kiln.example',
    '林美',
  ];
  const plain = [
    ' zoe duval',
    ' sten obrien luk',
    ' jorgen aero',
    ' weiss co',
    ' κωστησ κωστησ',
    ' елка',
    ' zoe kiln example',
    ' 林美',
  ];
  expect(said.map(searchText)).toEqual(plain);
  expect(await toStoredPhoto(said)).toEqual(plain);
});

test('the database and the program bring text into the same form', async () => {
  const letter = fc.oneof(
    fc.integer({ min: 0x20, max: 0x24f }),
    fc.integer({ min: 0x300, max: 0x36f }),
    fc.integer({ min: 0x386, max: 0x4ff }),
    fc.integer({ min: 0x1e00, max: 0x1fff }),
    fc.integer({ min: 0x2000, max: 0x2070 }),
  );
  const text = fc.array(letter, { maxLength: 30 }).map((codes) => String.fromCodePoint(...codes));
  await fc.assert(
    fc.asyncProperty(fc.array(text, { minLength: 50, maxLength: 50 }), async (said) => {
      expect(await toStoredPhoto(said)).toEqual(said.map(searchText));
    }),
    { numRuns: 40 },
  );
});
