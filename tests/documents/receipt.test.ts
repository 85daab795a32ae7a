import { describe, expect, test } from 'vitest';
import { renderCollectionNotice } from '../../src/documents/collection-notice.js';
import { renderReceipt } from '../../src/documents/receipt.js';
import { ReceiptContent } from '../../src/documents/receipt-content.js';
import { countRole, layoutFaults, readBack, rolesIn } from './read-back.js';
import { fullReceipt, LONG_NAME, LONG_WORD, notice, plainReceipt, registered, simplifiedReceipt } from './samples.js';

const read = async (content: ReceiptContent) => readBack(await renderReceipt(content));
const faults = (content: unknown) =>
  ReceiptContent.safeParse(content).error?.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`) ?? [];

describe('a receipt of a studio that is not registered for VAT', () => {
  test('says who paid how much, when, how, for what, and what is still to pay', async () => {
    const { text } = await read(plainReceipt);
    for (const words of [
      'Alder Lane Pottery',
      '7 Alder Lane',
      'bench@alderlane.example',
      'Receipt R-000123',
      'Received by card from Ines Duval on 11 March 2026.',
      '12 March 2026',
      'Lidded jars, deposit',
      '£60.00',
      '£6.23',
      '£66.23',
      '£240.00',
      '£15.00',
      '£165.00',
      'Balance of £165 due by Thursday 2 April 2026.',
      'Page 1 of 1',
    ])
      expect(text).toContain(words);
  });
  test('says what is due day by day, where that is more than one payment', async () => {
    const [supply] = plainReceipt.supplies;
    const stillDue = [
      { dueOn: '2026-04-02', amountMinor: 6500 },
      { dueOn: '2026-04-30', amountMinor: 10_000 },
    ];
    const content = { ...plainReceipt, supplies: [{ ...supply, stillDue }] } as ReceiptContent;
    const { text } = await read(content);
    expect(text).toContain('Balance of £165 due: £65 by Thursday 2 April 2026; £100 by Thursday 30 April 2026.');
    const vases = { ...supply, description: 'Vases', paidBeforeMinor: 0, paidNowMinor: 1, priceMinor: 16_501 };
    const two = { ...content, supplies: [...content.supplies, vases] } as ReceiptContent;
    expect((await read(two)).text).toMatch(
      /Lidded jars, six evenings: balance of £165 due: .* Vases: balance of £165 due by Thursday 2 April 2026\./,
    );
    expect(faults({ ...content, supplies: [{ ...supply, stillDue: stillDue.slice(1) }] })).toEqual([
      'supplies.0.stillDue: What is due day by day must add up to what is still to pay.',
    ]);
  });
  test('says who is behind the name of the studio, where it must', async () => {
    const legal = 'Alder Lane Pottery is a business name of Ines Duval. Address for service: as above.';
    const named = await read({ ...plainReceipt, studio: { ...plainReceipt.studio, legal } });
    expect(named.text).toContain(`Ostlemere 01632 960 118 bench@alderlane.example ${legal} Receipt R-000123`);
    const long = { ...plainReceipt.studio, legal: 'word '.repeat(199).trim() };
    expect(layoutFaults((await read({ ...plainReceipt, studio: long })).pages)).toEqual([]);
  });
  test('shows no VAT and never calls itself an invoice', async () => {
    expect((await read(plainReceipt)).text).not.toMatch(/VAT|tax|invoice/i);
  });
  test('is refused where a line bears VAT', () => {
    expect(faults({ ...plainReceipt, lines: fullReceipt.lines, totalMinor: 24_500 })).toContain(
      'kind: A receipt with VAT is a VAT invoice: choose vat-simplified or vat-full.',
    );
  });
});

// particulars: VAT Regulations 1995 (SI 1995/2518) reg 16A, legislation.gov.uk; limit and sums as HMRC gives them
describe('a simplified VAT invoice', () => {
  test('holds what regulation 16A lists', async () => {
    const { text } = await read(simplifiedReceipt);
    for (const words of [
      'Receipt and simplified VAT invoice R-000124',
      'VAT number GB 999 9999 73', // (a) name, address and registration number of the supplier
      'Tax point 11 March 2026', // (b) the time of the supply
      'Glazing day, one place', // (c) a description
      'Total £200.00', // (d) the total with VAT
      '20% £120.00', // (e) for each rate: the gross amount and the rate
      '5% £80.00',
    ])
      expect(text).toContain(words);
  });
  test.each([
    [25_000, true],
    [25_001, false],
  ])('for a supply of %i minor units under a limit of 250.00: %s', (priceMinor, allowed) => {
    const supply = { description: 'Week', paidBeforeMinor: 0, paidNowMinor: 20_000, payBy: null };
    const content = {
      ...simplifiedReceipt,
      supplies: [{ ...supply, priceMinor, stillToPayMinor: priceMinor - 20_000 }],
    };
    expect(faults(content)).toEqual(
      allowed ? [] : ['kind: The supply is above the limit of a simplified VAT invoice: choose vat-full.'],
    );
  });
  test('holds no exempt line (HMRC manual VATREC16042)', () => {
    expect(faults({ ...simplifiedReceipt, lines: fullReceipt.lines, totalMinor: 24_500 })).toEqual([
      'lines: Put lines without VAT on a receipt of their own.',
    ]);
  });
});

// particulars: VAT Regulations 1995 (SI 1995/2518) reg 14(1), legislation.gov.uk
describe('a full VAT invoice', () => {
  test('holds what regulation 14(1) lists', async () => {
    const { text } = await read(fullReceipt);
    for (const words of [
      'Receipt and VAT invoice R-000125', // (a) a sequential number
      'Tax point 11 March 2026', // (b) the time of the supply
      'Date of issue 12 March 2026', // (c) the date of issue
      '7 Alder Lane Ostlemere', // (d) name, address and registration number of the supplier
      'VAT number GB 999 9999 73',
      'Tomas Reyl 14 Mill Row Upper Ostlemere', // (e) name and address of the customer
      'Clay kits 3 £25.3967 5% £76.19', // (g) what, (h) how many, rate and net amount, (m) the unit price
      'Total excl. VAT £221.19', // (i)
      'VAT £23.81', // (l)
      'Total incl. VAT £245.00',
      '20% £100.00 £20.00 £120.00',
      '5% £76.19 £3.81 £80.00',
      'exempt £45.00 £0.00 £45.00',
    ])
      expect(text).toContain(words);
  });
  test('is refused without the address of the customer or the number of the studio', () => {
    expect(faults({ ...fullReceipt, payer: { name: 'Tomas Reyl', addressLines: [] } })).toEqual([
      'payer.addressLines: A full VAT invoice needs the address of the customer.',
    ]);
    const { vatNumber: _, ...unregistered } = registered;
    expect(faults({ ...fullReceipt, studio: unregistered })).toEqual([
      'studio.vatNumber: A VAT invoice needs the VAT number of the studio.',
    ]);
  });
});

// VATA 1994 s6(4): a payment before the supply has a tax point of its own, to the extent of the payment (VATTOS2225, VATTOS5105);
// what was supplied before keeps that of its supply
describe('a receipt for several tax points', () => {
  const [firing, deposit] = fullReceipt.lines as [Line, Line];
  const lines = [{ ...firing, taxPoint: '2025-07-08' }, deposit];
  type Line = ReceiptContent['lines'][number];
  test('says each with its line', async () => {
    const { text, pages } = await read({ ...fullReceipt, lines, totalMinor: 20_000 } as ReceiptContent);
    expect(text).toContain('Tax point as each line says');
    expect(text).toMatch(/Glazing day, one place Tax point 8 July 2025 1 .* Clay kits Tax point 11 March 2026 3/);
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('says one where all have the same, whenever that was', async () => {
    const early = fullReceipt.lines.map((line) => ({ ...line, taxPoint: line.taxPoint && '2025-07-08' }));
    const { text } = await read({ ...fullReceipt, lines: early } as ReceiptContent);
    expect(text.match(/Tax point/g)).toHaveLength(1);
    expect(text).toContain('Tax point 8 July 2025');
  });
  test('none after the payment, none where no VAT falls due, one wherever it does', () => {
    const at = (taxPoint: string | null, line = firing) =>
      faults({ ...fullReceipt, lines: [{ ...line, taxPoint }] }).join();
    expect(at('2026-03-12')).toContain('lines.0.taxPoint: What is paid has its tax point');
    expect(at(null)).toContain('lines.0.taxPoint: Give a tax point');
    expect(at('2026-03-11', fullReceipt.lines[2])).toContain('lines.0.taxPoint: Give a tax point');
  });
});

test('a part payment says so, and keeps the unit price of the whole', async () => {
  const [line] = fullReceipt.lines;
  const half = { ...line, quantity: 2, grossMinor: 6000, vatMinor: 1000, netMinor: 5000 };
  const { text } = await read({ ...fullReceipt, lines: [half], totalMinor: 6000 } as ReceiptContent);
  expect(text).toContain('Part payment: Glazing day, one place 2 £50.00 20% £50.00');
  expect(faults({ ...fullReceipt, lines: [{ ...half, priceNetMinor: 4999 }], totalMinor: 6000 })).toEqual([
    'lines.0.priceNetMinor: More is paid than it costs.',
  ]);
});

describe('figures that contradict each other are refused', () => {
  const line = plainReceipt.lines[0];
  const vatLine = fullReceipt.lines[0];
  test.each<[string, object, string]>([
    ['a wrong total', { totalMinor: 6624 }, 'totalMinor'],
    ['net and VAT that miss the gross', { lines: [{ ...line, netMinor: 1 }], totalMinor: 6000 }, 'lines.0.netMinor'],
    ['no lines', { lines: [] }, 'lines'],
    ['half a penny', { totalMinor: 0.5 }, 'totalMinor'],
    ['a price that its parts miss', { supplies: [{ ...plainReceipt.supplies[0], priceMinor: 1 }] }, 'supplies.0'],
    ['a field that nobody knows', { colour: 'blue' }, ''],
    ['a name over two lines', { payer: { name: 'Ines\nDuval', addressLines: [] } }, 'payer.name'],
    ['a day that does not exist', { receivedOn: '2026-02-30' }, 'receivedOn'],
    ['a locale whose digits the font lacks', { locale: 'ar-EG' }, 'locale'],
  ])('%s', (_, change, path) => {
    expect(faults({ ...plainReceipt, ...change }).join('\n')).toContain(path);
    expect(faults({ ...plainReceipt, ...change })).not.toEqual([]);
  });
  test('VAT that the rate does not give, but for the unit that instalments may differ by', () => {
    const withVat = (vatMinor: number) => ({
      ...fullReceipt,
      lines: [{ ...vatLine, vatMinor, netMinor: 12_000 - vatMinor }],
      totalMinor: 12_000,
    });
    expect(faults(withVat(2001))).toEqual([]);
    expect(faults(withVat(2002))).toEqual(['lines.0.vatMinor: This is not the VAT that the rate gives.']);
  });
});

describe('as a document', () => {
  test('is tagged, titled, in English, of version 1.7', async () => {
    const { info, marked, preferences, xmpTitle, pages } = await read(fullReceipt);
    expect(info).toMatchObject({ Title: 'Receipt and VAT invoice R-000125', Language: 'en', PDFFormatVersion: '1.7' });
    expect(info.CreationDate).toBe('D:20260312000000Z');
    expect(xmpTitle).toBe('Receipt and VAT invoice R-000125');
    expect(marked).toMatchObject({ Marked: true });
    expect(preferences).toMatchObject({ DisplayDocTitle: true });
    expect(rolesIn(pages, 'H1')).toBe(1);
    expect(rolesIn(pages, 'Table')).toBe(2);
    expect(rolesIn(pages, 'TR')).toBe(1 + 3 + 3 + 1 + 3);
    expect(countRole(pages[0]?.tags ?? {}, 'TH')).toBe(5 + 6 + 4 + 3);
    expect(pages[0]?.artefacts).toBeGreaterThan(5);
  });
  test('is read aloud in words that are not run together', async () => {
    const { pages } = await read(fullReceipt);
    for (const words of [
      'For Tomas Reyl 14 Mill Row Upper Ostlemere',
      '7 Alder Lane Ostlemere',
      'Unit price (excl. VAT)',
    ])
      expect(pages[0]?.spoken).toContain(words);
  });
  test('has the same bytes however often and after whatever else it is drawn', async () => {
    const first = await renderReceipt(plainReceipt);
    await renderCollectionNotice(notice);
    const stored = JSON.parse(JSON.stringify(Object.fromEntries(Object.entries(plainReceipt).reverse())));
    expect((await renderReceipt(ReceiptContent.parse(stored))).equals(first)).toBe(true);
    expect((await renderReceipt({ ...plainReceipt, totalMinor: 6623, method: 'cash' })).equals(first)).toBe(false);
  });
  test('is frozen once read', () => {
    const content = ReceiptContent.parse(plainReceipt);
    expect(Object.isFrozen(content) && Object.isFrozen(content.lines) && Object.isFrozen(content.payer)).toBe(true);
  });
});

describe('names and money of many countries', () => {
  test.each(['Żółć Łąka', 'Ελένη Μάμμου', 'Наташа Щукина', 'Hoffmann Griffith', 'Smith & Daughter <Ltd>'])(
    '%s stays intact',
    async (name) => {
      const { text } = await read({ ...plainReceipt, payer: { name, addressLines: [] } });
      expect(text).toContain(`from ${name} on`);
    },
  );
  test('a name that the font lacks is refused, never printed as boxes', async () => {
    const content = { ...plainReceipt, payer: { name: '陶芸', addressLines: [] } };
    await expect(renderReceipt(content)).rejects.toThrow('"陶芸" can\'t be printed: the font lacks 陶 芸');
  });
  test.each([
    ['EUR', 'en-IE', '€66.23'],
    ['EUR', 'de-DE', '66,23 €'],
    ['JPY', 'ja-JP', '¥6,623'],
    ['JPY', 'en-GB', 'JP¥6,623'],
    ['SAR', 'en-GB', 'SAR 66.23'],
  ])('%s in %s is written %s', async (currency, locale, amount) => {
    const { text } = await read({ ...plainReceipt, currency, locale });
    expect(text).toContain(amount);
    expect(text).toContain('11 March 2026'); // the paper's language is English whatever the locale
  });
  test.each([LONG_NAME, LONG_WORD])('a very long name neither leaves the page nor runs into others', async (name) => {
    const long = name.slice(0, 300);
    const lines = fullReceipt.lines.map((line) => ({ ...line, description: long }));
    const payer = { name: long, addressLines: [long, long] };
    const { pages } = await read({ ...fullReceipt, lines, payer });
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('forty lines go on over pages, under a head that is repeated for the eye only', async () => {
    const lines = Array.from({ length: 40 }, (_, i) => ({ ...fullReceipt.lines[0], description: `Place ${i}` }));
    const { pages } = await read({ ...fullReceipt, lines, totalMinor: 480_000 } as ReceiptContent);
    expect(pages.length).toBeGreaterThan(1);
    for (const [i, page] of pages.entries()) expect(page.text).toContain(`Page ${i + 1} of ${pages.length}`);
    expect(pages[1]?.text).toContain('Description');
    expect(pages[1]?.text).toContain('Alder Lane Pottery');
    expect(rolesIn(pages, 'TR')).toBe(1 + 40 + 3 + 1 + 1);
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('the sums never stand on a page without a line above them', async () => {
    for (let count = 18; count < 30; count++) {
      const lines = Array.from({ length: count }, (_, i) => ({ ...fullReceipt.lines[0], description: `Place ${i}` }));
      const { pages } = await read({ ...fullReceipt, lines, totalMinor: count * 12_000 } as ReceiptContent);
      const sums = pages.find((page) => page.text.includes('Total excl. VAT'));
      expect(sums?.text).toMatch(/Place \d+ 1 .*Total excl. VAT .*Total incl. VAT/);
    }
  });
  test('sums too large for their columns are broken, not printed over each other', async () => {
    const huge = 900_719_925_474_099;
    const supply = { ...plainReceipt.supplies[0], priceMinor: 3 * huge, paidBeforeMinor: huge, paidNowMinor: huge };
    const { pages } = await read({
      ...plainReceipt,
      currency: 'IDR',
      lines: [{ ...plainReceipt.lines[0], grossMinor: huge, netMinor: huge, priceNetMinor: huge }],
      totalMinor: huge,
      supplies: [{ ...supply, stillToPayMinor: huge }],
    } as ReceiptContent);
    expect(layoutFaults(pages)).toEqual([]);
  });
});
