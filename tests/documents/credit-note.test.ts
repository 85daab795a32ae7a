import { describe, expect, test } from 'vitest';
import { renderCreditNote } from '../../src/documents/credit-note.js';
import { CreditNoteContent } from '../../src/documents/credit-note-content.js';
import { layoutFaults, readBack, rolesIn } from './read-back.js';
import { creditNote, LONG_NAME, plainReceipt } from './samples.js';

const read = async (content: CreditNoteContent) => readBack(await renderCreditNote(content));
const faults = (content: unknown) => CreditNoteContent.safeParse(content).error?.issues.map((i) => i.message) ?? [];

const { vatNumber: _, ...unregistered } = creditNote.studio;
const { taxPoint: _taxPoint, priceNetMinor: _price, ...line } = plainReceipt.lines[0] as PaidLine;
type PaidLine = (typeof plainReceipt.lines)[number];
const plain: CreditNoteContent = {
  ...creditNote,
  studio: unregistered,
  kind: 'receipt',
  number: 'C-000005',
  corrects: [{ number: 'R-000123', issuedOn: '2026-03-12' }],
  customer: { name: 'Ines Duval', addressLines: [] },
  settlement: { how: 'less-owed' },
  lines: [line],
  totalMinor: 6000,
};

describe('a credit note', () => {
  // particulars: VAT Regulations 1995 (SI 1995/2518) reg 15C, legislation.gov.uk; the list itself from memory
  test('names what it corrects and takes the VAT back with it', async () => {
    const { text, info, pages } = await read(creditNote);
    for (const words of [
      'Credit note C-000004',
      'Refunded to Tomas Reyl by bank transfer on 20 March 2026.',
      'Relates to VAT invoice R-000125 dated 12 March 2026',
      'Reason One of the group is ill.',
      'VAT number GB 999 9999 73',
      'Tomas Reyl 14 Mill Row Upper Ostlemere',
      'Glazing day, one place 1 20% £100.00 £20.00 £120.00',
      'Total £100.00 £20.00 £120.00',
      'Page 1 of 1',
    ])
      expect(text).toContain(words);
    expect(info).toMatchObject({ Title: 'Credit note C-000004', Language: 'en' });
    expect(rolesIn(pages, 'Table')).toBe(1);
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('of a receipt without VAT shows none', async () => {
    const { text } = await read(plain);
    expect(text).toContain('Deducted from what Ines Duval owes.');
    expect(text).toContain('Relates to receipt R-000123');
    expect(text).toContain('Total £60.00');
    expect(text).not.toMatch(/VAT|tax|invoice/i);
  });
  test('says that the money is still to come', async () => {
    const { text } = await read({ ...plain, settlement: { how: 'to-pay-back' } });
    expect(text).toContain('To be refunded to Ines Duval.');
  });
  test.each<[string, object, string]>([
    ['VAT on a receipt without', { kind: 'receipt' }, 'The receipt had no VAT, so none is refunded.'],
    [
      'VAT of a studio without number',
      { studio: unregistered },
      'A credit note with VAT needs the VAT number of the studio.',
    ],
    [
      'older than the receipt',
      { issuedOn: '2026-03-11' },
      'A credit note can’t be older than the receipt that it corrects.',
    ],
    ['no lines', { lines: [], totalMinor: 1 }, 'A credit note needs at least one line.'],
    ['a wrong total', { totalMinor: 12_001 }, 'The lines must add up to the total.'],
  ])('%s is refused', (_, change, message) => {
    expect(faults({ ...creditNote, ...change })).toContain(message);
  });
  test('has the same bytes twice, others for another reason, and takes long names', async () => {
    const first = await renderCreditNote(creditNote);
    expect((await renderCreditNote(creditNote)).equals(first)).toBe(true);
    expect((await renderCreditNote({ ...creditNote, reason: 'Ill.' })).equals(first)).toBe(false);
    const name = LONG_NAME.slice(0, 300);
    const { pages } = await read({ ...creditNote, reason: name, customer: { name, addressLines: [name] } });
    expect(layoutFaults(pages)).toEqual([]);
  });
});
