import { describe, expect, test } from 'vitest';
import { CollectionContent } from '../../src/documents/collection-content.js';
import { letterFor } from '../../src/mail/letters.js';
import { collectionData } from '../../src/mail/templates/collection.js';
import { wrap } from '../../src/mail/wrap.js';
import { manyPieces, notice } from '../documents/samples.js';

const to = {
  studio: {
    name: 'Alder Lane Pottery',
    addressLines: ['7 Alder Lane', 'Fernley'],
    email: 'bench@alderlane.example',
    phone: null,
  },
  personName: 'Ελένη Παπαδοπούλου',
};
const booking = {
  course: 'Lidded jars',
  sessions: ['Tuesday 14 April 2026, 19:00 to 21:30, Wheel room', 'Tuesday 21 April 2026, 19:00 to 21:30, Wheel room'],
  attendees: ['Ελένη Παπαδοπούλου', 'Tomas Reyl'],
  price: '£480.00',
  deposit: '£120.00',
  heldUntil: 'Sunday 15 March 2026, 18:00',
  balance: { amount: '£360.00', by: '2 April 2026' },
};
/** What a letter says, whatever its lines. */
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

describe('letters', () => {
  test('of a receipt', () => {
    const { subject, text } = letterFor('receipt', { receiptNumber: 'R-000123', amount: '£60.00' }, to);
    expect(subject).toBe('Receipt R-000123 from Alder Lane Pottery');
    expect(text).toBe(
      'Hello Ελένη Παπαδοπούλου,\n\nWe have received £60.00 from you. Thank you.\n\nReceipt R-000123 is attached. Please keep it.\n\n' +
        '-- \nAlder Lane Pottery\n7 Alder Lane, Fernley\nbench@alderlane.example\n',
    );
  });
  test('of a refund', () => {
    const data = { creditNoteNumber: 'C-000004', amount: '£60.00', reason: 'The course is not held.' };
    const { text } = letterFor('refund', data, to);
    expect(flat(text)).toContain('£60.00 goes back to you. The reason: The course is not held.');
  });
  test('of a voucher names its code and its end, and says where it stands for another', () => {
    const data = {
      code: '234 5555 55R',
      amount: '£60.00',
      forWhom: 'Mira',
      validUntil: '11 March 2027',
      insteadOfExpired: false,
    };
    const { subject, text } = letterFor('voucher', data, to);
    expect(subject).toBe('Voucher 234 5555 55R from Alder Lane Pottery');
    expect(flat(text)).toContain('Here is the voucher that you bought: £60.00 for Mira.');
    expect(flat(text)).toContain('Its code is 234 5555 55R. It is valid until 11 March 2027.');
    const other = letterFor('voucher', { ...data, validUntil: null, insteadOfExpired: true }, to);
    expect(flat(other.text)).toContain(
      'goes back to you on a new voucher, since the one you paid with is no longer valid',
    );
    expect(flat(other.text)).toContain('It is valid without end.');
  });
  test('of a reminder asks for what is due, line by line, and thanks who has paid', () => {
    const lines = [
      { what: 'Lidded jars, 14 April 2026 to 5 May 2026, 1 place', amount: '£100.00', since: '9 March 2026' },
      { what: 'Firing 12, 3 pieces', amount: '£12.50', since: '10 March 2026' },
    ];
    const { subject, text } = letterFor('reminder', { due: '£112.50', lines, howToPay: 'By card at the bench.' }, to);
    expect(subject).toBe('£112.50 is due at Alder Lane Pottery: a reminder');
    expect(text).toBe(
      [
        'Hello Ελένη Παπαδοπούλου,\n',
        'We have not received £112.50 yet, and would like to remind you of it:\n',
        '  Lidded jars, 14 April 2026 to 5 May 2026, 1 place: £100.00, due since',
        '  9 March 2026',
        '  Firing 12, 3 pieces: £12.50, due since 10 March 2026\n',
        'How to pay:',
        '  By card at the bench.\n',
        'If you have paid in the meantime, thank you: nothing more is asked of',
        'you.\n',
        'If something here is not right, or you would rather pay in parts, please',
        'ask us: an answer to this message is enough.\n',
        '-- ',
        'Alder Lane Pottery',
        '7 Alder Lane, Fernley',
        'bench@alderlane.example\n',
      ].join('\n'),
    );
  });
  test('of a place that is held says until when, for how much, and how to come', () => {
    const { subject, text } = letterFor('booking', booking, to);
    expect(subject).toBe('We hold your place until Sunday 15 March 2026, 18:00: Lidded jars');
    for (const words of [
      'Pay the deposit of £120.00 by then and the place is yours.',
      'Tuesday 14 April 2026, 19:00 to 21:30, Wheel room',
      'Who comes: Ελένη Παπαδοπούλου Tomas Reyl',
      'The price is £480.00. Please pay £360.00 of it by 2 April 2026.',
      'Where: Alder Lane Pottery 7 Alder Lane Fernley',
      'never sweep or sand',
    ])
      expect(flat(text)).toContain(words);
  });
  test('of a confirmed place asks for no deposit', () => {
    const { subject, text } = letterFor('booking', { ...booking, deposit: null, heldUntil: null, balance: null }, to);
    expect(subject).toBe('You are booked: Lidded jars');
    expect(text).not.toMatch(/deposit|null|undefined/);
  });
  test('of a booking says when each part of the price is due', () => {
    const balance = [
      { amount: '£180.00', by: '5 March 2026' },
      { amount: '£180.00', by: '2 April 2026' },
    ];
    const priceOf = (changes: object) => {
      const { text } = letterFor('booking', { ...booking, ...changes }, to);
      return flat(text.slice(text.indexOf('The price is'), text.indexOf('Wear clothes'))).trim();
    };
    expect(priceOf({ balance })).toBe(
      'The price is £480.00. Please pay the rest in 2 parts: £180.00 by 5 March 2026 £180.00 by 2 April 2026',
    );
    const late = { balance: balance.slice(1), dueNow: '£300.00' };
    expect(priceOf(late)).toBe(
      'The price is £480.00. £300.00 of it is due now, the deposit included. Please pay £180.00 of it by 2 April 2026.',
    );
    expect(priceOf({ balance: [], dueNow: '£480.00', deposit: null, heldUntil: null })).toBe(
      'The price is £480.00. £480.00 of it is due now.',
    );
    // as it was frozen when a balance was one payment
    expect(priceOf({})).toBe('The price is £480.00. Please pay £360.00 of it by 2 April 2026.');
  });
  test('of ware that is ready says what its notice says', () => {
    const data = JSON.parse(JSON.stringify(collectionData(CollectionContent.parse(notice))));
    const { subject, text } = letterFor('collection', data, to);
    expect(subject).toMatch(/^Your work is ready: collect it by Thursday,? 2 April 2026$/);
    for (const words of [
      '4P3 Bottle with gold lustre',
      'You owe £132.38, of which firing fees are £12.38. Pay by card',
      'Decorative, not for food or drink: 4P3.',
      'After that we keep it in store for £2.00 a week.',
    ])
      expect(flat(text)).toContain(words);
    expect(text).not.toMatch(/food[\s-]*safe/i);
  });
  test('of ware for which no firing fee is owed', () => {
    const content = CollectionContent.parse({ ...notice, firingFees: [] });
    expect(letterFor('collection', collectionData(content), to).text).toContain('You owe £120.00. Pay by card');
  });
  test('of sixty pieces, where nothing is owed', () => {
    const many = CollectionContent.parse({ ...notice, pieces: manyPieces(60), firingFees: [], otherOwed: [] });
    const { text } = letterFor('collection', collectionData(many), to);
    expect(text).toContain('You owe nothing.');
    for (const { code } of many.pieces) expect(text).toContain(code);
  });
  test('refuse data of another occasion', () => {
    expect(() => letterFor('receipt', booking, to)).toThrow('receiptNumber');
  });
  test.each(['booking', 'collection'] as const)('%s: no line is longer than 72 columns', (occasion) => {
    const data = occasion === 'booking' ? booking : collectionData(CollectionContent.parse(notice));
    const { text } = letterFor(occasion, data, to);
    expect(Math.max(...text.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(72);
  });
});

describe('wrapping', () => {
  test('keeps indents, paragraphs and long words', () => {
    const link = `https://alderlane.example/${'a'.repeat(80)}`;
    expect(wrap(`  ${'word '.repeat(20)}\n\n${link} end`)).toBe(
      `  ${'word '.repeat(14).trim()}\n  ${'word '.repeat(6).trim()}\n\n${link}\nend`,
    );
  });
});
