import { describe, expect, test } from 'vitest';
import { CollectionContent } from '../../src/documents/collection-content.js';
import { renderCollectionNotice } from '../../src/documents/collection-notice.js';
import { alternatives, layoutFaults, readBack, rolesIn } from './read-back.js';
import { decorative, LONG_NAME, LONG_WORD, laboratory, manyPieces, notice, piece, statement } from './samples.js';

const read = async (content: CollectionContent) => readBack(await renderCollectionNotice(content));
const faults = (content: unknown) =>
  CollectionContent.safeParse(content).error?.issues.map((i) => `${i.path.join('.')}: ${i.message}`) ?? [];

/** Too many for one page, so that all is given its room. */
const five = { ...notice, pieces: [...notice.pieces, piece('4Q4'), piece('4R5')] };

describe('a collection notice', () => {
  test('says what is ready, until when, where, what is owed with firing fees apart', async () => {
    const { text, pages } = await read(five);
    for (const words of [
      'Halina Brzoska: 5 pieces ready to collect',
      'by Thursday 2 April 2026 Please collect by this day. After that we keep it in store for £2.00 a week.',
      'Where The shelf by the door',
      'When Tuesday to Friday, 10:00 to 18:00',
      'To pay £132.38 as at 12 March 2026',
      '4K7 Mug, tin white 120 × 95 mm glaze firing 15 5 March 2026',
      'about 90 × 190 mm',
      'Sizes marked “about” are estimates.',
      'Glaze firing 15, your share £8.88',
      'Firing fees £12.38',
      'Lidded jars, second half £120.00',
      'Other charges £120.00',
      'Total £132.38',
      'Pay by card or in cash when you collect.',
    ])
      expect(text).toContain(words);
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('the day to collect by is the largest thing on it', async () => {
    const { pages } = await read(notice);
    const largest = pages.flatMap((page) => page.items).sort((a, b) => b.size - a.size)[0];
    expect(largest?.text).toBe('by Thursday 2 April 2026');
  });
  test('says of each piece what it may be used for, on whose word, and never more', async () => {
    const { text } = await read(notice);
    expect(text).toMatch(/4P3 Bottle with gold lustre about 90 × 190 mm .{0,40} Decorative, not for food or drink/);
    expect(text).toContain('Glaze manufacturer’s statement: see note 1');
    expect(text).toContain('the manufacturer of Moss satin stated on 3 November 2025: “Free of lead');
    expect(text).toContain('These are the manufacturer’s words; we have not tested the piece.');
    expect(text).toContain(
      '4M2: tested by Marsh and Tiller Laboratories on 19 February 2026, report MT-2291: lead below',
    );
    for (const caution of ['sharp as glass', 'no boiling water', 'microwave', 'chipped or crazed', 'laboratory test'])
      expect(text).toContain(caution);
    expect(text).not.toMatch(/food[\s-]*safe/i);
  });
  test('writes a statement once for all pieces that rest on it', async () => {
    const pieces = [piece('1A', { use: statement }), piece('1B', { use: laboratory }), piece('1C', { use: statement })];
    const { text } = await read({ ...notice, pieces });
    expect(text.match(/Free of lead/g)).toHaveLength(1);
    expect(text).toContain('1 1A, 1C: the manufacturer of Moss satin');
  });
  test('says that nothing is owed', async () => {
    const { text } = await read({ ...notice, firingFees: [], otherOwed: [], howToPay: null });
    expect(text).toContain('To pay nothing');
    expect(text.match(/To pay/g)).toHaveLength(1);
  });
  test('is tagged, with boards that are said in words', async () => {
    const { info, pages, marked, preferences } = await read(five);
    expect(info).toMatchObject({ Title: '5 pieces ready to collect, by 2 April 2026', Language: 'en' });
    expect(marked).toMatchObject({ Marked: true });
    expect(preferences).toMatchObject({ DisplayDocTitle: true });
    expect(pages.flatMap((page) => alternatives(page.tags))).toEqual([
      'A board, to scale 1 : 8. From left: 4K7, Mug, tin white; 4M2, Bowl, iron glaze; 4P3, Bottle with gold lustre; 4Q4, Mug, tin white; 4R5, Mug, tin white.',
    ]);
    expect(rolesIn(pages, 'H1')).toBe(1);
    expect(rolesIn(pages, 'H2')).toBe(4);
    expect(rolesIn(pages, 'LI')).toBe(2 + 6);
    expect(rolesIn(pages, 'TR')).toBe(1 + 5 + (1 + 6));
  });
});

describe('from one piece to many', () => {
  test('one piece takes one page', async () => {
    const { pages, text } = await read({ ...notice, pieces: [piece('3T8')], firingFees: [], otherOwed: [] });
    expect(pages).toHaveLength(1);
    expect(text).toContain('1 piece ready to collect');
    expect(text).toContain('Page 1 of 1');
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('three take one page with their cautions, a statement, and who is behind the studio', async () => {
    const legal = 'Alder Lane Pottery is a business name of Mara Lind. Address for service: as above.';
    const { pages, text } = await read({
      ...{ ...notice, firingFees: [], otherOwed: [], howToPay: null },
      afterThat: 'Anything left after that is given to the school fair or recycled.',
      studio: { ...notice.studio, legal, addressLines: ['7 Alder Lane', 'Ostlemere', 'OM4 2QX'] },
      where: ['7 Alder Lane, Ostlemere', 'the shelf to the left of the door'],
      when: ['Tuesdays and Thursdays, 10:00 to 18:00', 'Saturdays, 10:00 to 13:00'],
      pieces: [piece('35FF', { use: statement }), piece('35HA', { use: statement }), piece('35J5')],
    });
    expect(pages).toHaveLength(1);
    expect(text.replace(/\s+/g, ' ')).toContain(legal);
    expect(text).toContain('Only a laboratory test shows what a piece gives off to food.');
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('sixty pieces take several, each row and each board whole', async () => {
    const pieces = manyPieces(60);
    const { pages, text } = await read({ ...notice, pieces });
    expect(pages.length).toBeGreaterThan(3);
    for (const [i, page] of pages.entries()) expect(page.text).toContain(`Page ${i + 1} of ${pages.length}`);
    for (const { code } of pieces) expect(text.match(new RegExp(`\\b${code}\\b`, 'g'))?.length).toBe(2);
    expect(rolesIn(pages, 'Figure')).toBeGreaterThan(4);
    expect(rolesIn(pages, 'TR')).toBe(1 + 60 + (1 + 6));
    expect(text).toContain('All pieces marked “note 1”: the manufacturer of Moss satin');
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('none is refused', async () => {
    expect(faults({ ...notice, pieces: [] })).toEqual(['pieces: A notice is for at least one piece.']);
    await expect(renderCollectionNotice({ ...notice, pieces: [] })).rejects.toThrow('at least one piece');
  });
  test('the largest and the smallest that there may be', async () => {
    const pieces = [
      piece('A', { widthMm: 2000, heightMm: 2000, form: 'box' }),
      piece('B', { widthMm: 1, heightMm: 1 }),
      ...five.pieces,
    ];
    const { pages, text } = await read({ ...notice, pieces });
    expect(text).toContain('Drawn to scale, 1 : 25');
    expect(layoutFaults(pages)).toEqual([]);
  });
  test.each([LONG_NAME, LONG_WORD])('very long words neither leave the page nor run into others', async (name) => {
    const long = name.slice(0, 300);
    const pieces = notice.pieces.map((p) => ({ ...p, code: '4K7-4K7-4K7X', description: long, firing: long }));
    const { pages } = await read({
      ...notice,
      studio: { ...notice.studio, name: long, addressLines: [long, long] },
      maker: { name: long },
      pieces,
      where: [long, long, long],
      when: [long],
      afterThat: long,
      howToPay: long,
      firingFees: [{ description: long, amountMinor: 1 }],
    });
    expect(layoutFaults(pages)).toEqual([]);
  });
});

describe('what is refused', () => {
  test.each<[string, object, string]>([
    ['a day before the notice', { collectBy: '2026-03-11' }, 'collectBy: The last day to collect is before'],
    ['money without a way to pay it', { howToPay: null }, 'howToPay: Say how to pay what is owed.'],
    ['an absurd size', { pieces: [piece('A', { widthMm: 2001 })] }, 'pieces.0.widthMm'],
    ['a form that nobody knows', { pieces: [{ ...piece('A'), form: 'teapot' }] }, 'pieces.0.form'],
    ['a use without a word on it', { pieces: [{ ...piece('A'), use: undefined }] }, 'pieces.0.use'],
    [
      '"food safe" in the words of the studio',
      { pieces: [piece('A', { description: 'Mug, Food-Safe' })] },
      'Say what was',
    ],
    [
      '"food safe" for a test',
      { pieces: [piece('A', { use: { ...laboratory, finding: 'food safe.' } })] },
      'pieces.0.use.finding',
    ],
    ['an undated statement', { pieces: [piece('A', { use: { ...statement, on: '' } })] }, 'pieces.0.use.on'],
  ])('%s', (_, change, message) => {
    expect(faults({ ...notice, ...change }).join('\n')).toContain(message);
  });
  test('a name that the font lacks', async () => {
    await expect(renderCollectionNotice({ ...notice, maker: { name: '李' } })).rejects.toThrow('the font lacks 李');
  });
});

test('has the same bytes twice, and others for another piece', async () => {
  const first = await renderCollectionNotice(notice);
  expect((await renderCollectionNotice(structuredClone(notice))).equals(first)).toBe(true);
  const other = { ...notice, pieces: [...notice.pieces.slice(1), piece('4K8', { use: decorative })] };
  expect((await renderCollectionNotice(other)).equals(first)).toBe(false);
});
