import { describe, expect, test } from 'vitest';
import { CollectionContent } from '../../src/documents/collection-content.js';
import { letterFor } from '../../src/mail/letters.js';
import { collectionData } from '../../src/mail/templates/collection.js';
import { wrap } from '../../src/mail/wrap.js';
import { manyPieces, notice } from '../documents/samples.js';

const to = {
  studio: {
    name: 'Alder Lane Pottery',
    addressLines: ['7 Alder Lane', 'Ostlemere'],
    email: 'bench@alderlane.example',
    phone: null,
  },
  personName: 'Ελένη Παπαδοπούλου',
};
const visit = {
  course: 'Lidded jars',
  sessions: ['Tuesday 14 April 2026, 19:00 to 21:30, Wheel room', 'Tuesday 21 April 2026, 19:00 to 21:30, Wheel room'],
  attendees: ['Ελένη Παπαδοπούλου', 'Tomas Reyl'],
  directions: 'Ring at the green door.',
  howToPay: 'Please pay by bank transfer.',
  refundTerms: {
    tiers: ['at least 28 days before the start: all that you have paid', 'later than that: nothing'],
    filledAgain: 'If your place is filled again, or the course is full when it starts, we refund all of it but £5.00.',
  },
};
const booking = {
  ...visit,
  price: '£480.00',
  deposit: '£120.00',
  heldUntil: 'Sunday 15 March 2026, 18:00',
  balance: [{ amount: '£360.00', by: '2 April 2026' }],
};
/** As it was frozen before letters said how to pay, and when a balance was one payment. */
const earlier = {
  ...{ course: visit.course, sessions: visit.sessions, attendees: visit.attendees, price: '£480.00' },
  ...{
    deposit: '£120.00',
    heldUntil: 'Sunday 15 March 2026, 18:00',
    balance: { amount: '£360.00', by: '2 April 2026' },
  },
};
/** What a letter says, whatever its lines. */
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

describe('letters', () => {
  test('of a receipt says what was paid for', () => {
    const data = { receiptNumber: 'R-000123', amount: '£60.00', paidFor: ['Lidded jars, 14 April 2026, 1 place'] };
    const { subject, text } = letterFor('receipt', data, to);
    expect(subject).toBe('Receipt R-000123 from Alder Lane Pottery');
    expect(text).toBe(
      'Dear Ελένη Παπαδοπούλου,\n\nThank you for your payment of £60.00 for Lidded jars, 14 April 2026, 1\nplace.\n\n' +
        'Receipt R-000123 is attached. Please keep it.\n\n' +
        '-- \nAlder Lane Pottery\n7 Alder Lane, Ostlemere\nbench@alderlane.example\n',
    );
    const two = letterFor('receipt', { ...data, paidFor: ['Firing 12', 'Firing 13'] }, to);
    expect(two.text).toContain('payment of £60.00, which is for:\n  Firing 12\n  Firing 13\n');
    const old = letterFor('receipt', { receiptNumber: 'R-000123', amount: '£60.00' }, to);
    expect(old.text).toContain('Thank you for your payment of £60.00.\n');
  });
  test('of a refund says what for, why, and what may follow', () => {
    const data = { creditNoteNumber: 'C-000004', amount: '£60.00', reason: 'Moves away' };
    expect(flat(letterFor('refund', data, to).text)).toContain(
      'We have refunded £60.00 to you. The reason: Moves away. Credit note C-000004 is attached.',
    );
    const more = { what: 'Lidded jars, 1 place', explanation: 'If your place is filled again, we refund the rest.' };
    expect(flat(letterFor('refund', { ...data, ...more, reason: 'Does it move?' }, to).text)).toContain(
      'We have refunded £60.00 to you for Lidded jars, 1 place. The reason: Does it move? If your place is filled again, we refund the rest.',
    );
  });
  test('of a voucher names its code and its end, and says where it replaces another', () => {
    const data = {
      code: '234 5555 55R',
      amount: '£60.00',
      forWhom: 'Mira',
      validUntil: '11 March 2027',
      insteadOfExpired: false,
    };
    const { subject, text } = letterFor('voucher', data, to);
    expect(subject).toBe('Voucher 234 5555 55R from Alder Lane Pottery');
    expect(flat(text)).toContain('Here is the voucher you bought: £60.00 for Mira.');
    expect(flat(text)).toContain('Its code is 234 5555 55R. It is valid until 11 March 2027.');
    const other = letterFor('voucher', { ...data, validUntil: null, insteadOfExpired: true }, to);
    expect(flat(other.text)).toContain(
      '£60.00 has been refunded to a new voucher, because the one you paid with has expired.',
    );
    expect(flat(other.text)).toContain('It has no expiry date.');
  });
  test('of a reminder asks for what is due, line by line, and thanks who has paid', () => {
    const lines = [
      { what: 'Lidded jars, 14 April 2026 to 5 May 2026, 1 place', amount: '£100.00', since: '9 March 2026' },
      { what: 'Firing 12, 3 pieces', amount: '£12.50', since: '10 March 2026' },
    ];
    const howToPay = ['For firing: By card at the bench.', 'For the rest: By bank transfer.'];
    const { subject, text } = letterFor('reminder', { due: '£112.50', lines, howToPay }, to);
    expect(subject).toBe('A reminder: £112.50 to pay to Alder Lane Pottery');
    expect(text).toBe(
      [
        'Dear Ελένη Παπαδοπούλου,\n',
        'According to our records £112.50 is still to be paid:\n',
        '  Lidded jars, 14 April 2026 to 5 May 2026, 1 place, £100.00, due 9',
        '  March 2026',
        '  Firing 12, 3 pieces, £12.50, due 10 March 2026\n',
        'How to pay:',
        '  For firing: By card at the bench.',
        '  For the rest: By bank transfer.\n',
        'If you have paid in the meantime, thank you, and please ignore this',
        'email.\n',
        'If something here is not right, or you would rather pay in instalments,',
        'just reply to this email.\n',
        '-- ',
        'Alder Lane Pottery',
        '7 Alder Lane, Ostlemere',
        'bench@alderlane.example\n',
      ].join('\n'),
    );
    const old = letterFor('reminder', { due: '£112.50', lines, howToPay: 'By card at the bench.' }, to);
    expect(old.text).toContain('How to pay:\n  By card at the bench.\n');
  });
  test('of a place that is held says until when, how to pay for it, how to come and what is refunded', () => {
    const { subject, text } = letterFor('booking', booking, to);
    expect(subject).toBe('Your 2 places on Lidded jars are held until Sunday 15 March 2026, 18:00');
    for (const words of [
      'We are holding your 2 places on Lidded jars until Sunday 15 March 2026, 18:00. To keep them, please pay the deposit of £120.00 by then. Otherwise we may offer them to someone else.',
      'Tuesday 14 April 2026, 19:00 to 21:30, Wheel room',
      'Who’s coming: Ελένη Παπαδοπούλου Tomas Reyl',
      'The price is £480.00. The balance of £360.00 is due by 2 April 2026.',
      'How to pay: Please pay by bank transfer.',
      'Where: Alder Lane Pottery 7 Alder Lane Ostlemere Ring at the green door.',
      'please don’t sweep or dry-sand',
      'just reply to this email. What we then refund: at least 28 days before the start: all that you have paid later than that: nothing If your place is filled again,',
    ])
      expect(flat(text)).toContain(words);
    expect(letterFor('booking', { ...booking, attendees: ['Tomas Reyl'] }, to).subject).toBe(
      'Your place on Lidded jars is held until Sunday 15 March 2026, 18:00',
    );
  });
  test('of a booking that was frozen by an earlier version is still written', () => {
    const text = flat(letterFor('booking', earlier, to).text);
    expect(text).toContain('The price is £480.00. The balance of £360.00 is due by 2 April 2026.');
    expect(text).not.toMatch(/null|undefined|How to pay|refund/);
  });
  test('of a booking without a deposit asks for none', () => {
    const { subject, text } = letterFor('booking', { ...booking, deposit: null, heldUntil: null, balance: null }, to);
    expect(subject).toBe('Your booking: Lidded jars');
    expect(flat(text)).toContain('You’re booked in for Lidded jars. We look forward to seeing you.');
    expect(text).not.toMatch(/deposit|null|undefined/);
  });
  test('of a booking says when each part of the price is due', () => {
    const balance = [
      { amount: '£180.00', by: '5 March 2026' },
      { amount: '£180.00', by: '2 April 2026' },
    ];
    const priceOf = (changes: object) => {
      const { text } = letterFor('booking', { ...booking, ...changes }, to);
      return flat(text.slice(text.indexOf('The price is'), text.indexOf('How to pay'))).trim();
    };
    expect(priceOf({ balance })).toBe(
      'The price is £480.00. Please pay the rest in 2 instalments: £180.00 by 5 March 2026 £180.00 by 2 April 2026',
    );
    const late = { balance: balance.slice(1), dueNow: '£300.00', dueNowBy: '15 March 2026' };
    expect(priceOf(late)).toBe(
      'The price is £480.00. £300.00 is due by 15 March 2026, including the deposit. The balance of £180.00 is due by 2 April 2026.',
    );
    expect(priceOf({ balance: [], dueNow: '£480.00', dueNowBy: '15 March 2026' })).toBe(
      'The price is £480.00. All of it is due by 15 March 2026, including the deposit.',
    );
    const free = { deposit: null, heldUntil: null };
    expect(priceOf({ ...free, balance: [], dueNow: '£480.00' })).toBe('The price is £480.00. All of it is due now.');
    expect(priceOf({ ...free, balance: [{ amount: '£480.00', by: '2 April 2026' }] })).toBe(
      'The price is £480.00, to be paid by 2 April 2026.',
    );
  });
  test('of a place that is confirmed says what is still to pay, how to get here and what to wear', () => {
    const confirmed = { ...visit, paid: '£120.00', balance: booking.balance };
    const { subject, text } = letterFor('placeConfirmed', confirmed, to);
    expect(subject).toBe('Confirmed: your 2 places on Lidded jars');
    for (const words of [
      'Thank you: £120.00 has reached us, and your 2 places on Lidded jars are confirmed.',
      'Tuesday 14 April 2026, 19:00 to 21:30, Wheel room',
      '7 Alder Lane Ostlemere Ring at the green door.',
      'Still to pay: £360.00 by 2 April 2026 How to pay: Please pay by bank transfer.',
      'Please wear old clothes and closed shoes.',
      'What we then refund: at least 28 days before the start',
    ])
      expect(flat(text)).toContain(words);
    const paid = flat(letterFor('placeConfirmed', { ...confirmed, balance: [], attendees: ['Tomas Reyl'] }, to).text);
    const gold = {
      ...visit,
      hazards: ['Sun lustre – Flammable, and gives off solvent vapour.', 'The sheets go first.'],
    };
    const needsCare =
      'Some of what we use on this course needs care: Sun lustre – Flammable, and gives off solvent vapour. The sheets go first.';
    for (const [occasion, data] of [
      ['booking', { ...booking, ...gold }],
      ['placeConfirmed', { ...confirmed, ...gold }],
    ] as const)
      expect(flat(letterFor(occasion, data, to).text)).toContain(needsCare);
    expect(paid).not.toContain('needs care');
    expect(paid).toContain('your place on Lidded jars is confirmed');
    expect(paid).toContain('There is nothing more to pay.');
    expect(paid).not.toContain('How to pay');
  });
  test('of a hold that lapsed says that nothing is owed, and that it can cross with the money', () => {
    const { attendees, course } = visit;
    const lapsed = { attendees, course, heldUntil: 'Sunday 15 March 2026, 18:00', deposit: '£120.00' };
    const { subject, text } = letterFor('holdLapsed', lapsed, to);
    expect(subject).toBe('No longer held: your 2 places on Lidded jars');
    expect(flat(text)).toContain(
      'your 2 places are no longer held, and your booking is cancelled. There is nothing to pay.',
    );
    expect(flat(text)).toContain('If you have paid in the meantime, or would still like to come, just reply');
  });
  test('of a booking that is cancelled says that nothing is owed, or why nothing goes back', () => {
    const what = 'Lidded jars, 14 April 2026 to 21 April 2026, 2 places';
    const unpaid = letterFor('bookingCancelled', { booking: what, paid: null, explanation: null }, to);
    expect(unpaid.subject).toBe(`Cancelled: ${what}`);
    expect(flat(unpaid.text)).toContain(`Your booking is cancelled: ${what}. There is nothing to pay.`);
    const explanation = 'Cancelled 2 days before the start: too late for a refund.';
    const paid = flat(letterFor('bookingCancelled', { booking: what, paid: '£120.00', explanation }, to).text);
    expect(paid).toContain(
      `The £120.00 that you paid is not refunded, and there is nothing more to pay. ${explanation} If this is not`,
    );
  });
  test('of a place that is filled again says what goes back', () => {
    const data = { booking: 'Lidded jars, 1 place', places: 'Your place has', amount: '£25.00' };
    const { subject, text } = letterFor('placeFilled', data, to);
    expect(subject).toBe('A refund of £25.00 for Lidded jars, 1 place');
    expect(flat(text)).toContain('Your place has now been filled again, so we owe you a further refund of £25.00.');
  });
  test('of ware that is ready says what its notice says', () => {
    const data = JSON.parse(JSON.stringify(collectionData(CollectionContent.parse(notice))));
    const { subject, text } = letterFor('collection', data, to);
    expect(subject).toBe('Your work is ready: collect it by Thursday 2 April 2026');
    for (const words of [
      '4P3 Bottle with gold lustre',
      'There is £132.38 to pay, £12.38 of it for firing. Pay by card',
      'Decorative, not for food or drink: 4P3.',
      'After that we keep it in store for £2.00 a week.',
    ])
      expect(flat(text)).toContain(words);
    expect(text).not.toMatch(/food[\s-]*safe/i);
  });
  test('of ware for which no firing fee is owed', () => {
    const content = CollectionContent.parse({ ...notice, firingFees: [] });
    expect(letterFor('collection', collectionData(content), to).text).toContain('There is £120 to pay. Pay by card');
  });
  test('of ware for which only firing is owed', () => {
    const content = CollectionContent.parse({ ...notice, otherOwed: [] });
    expect(letterFor('collection', collectionData(content), to).text).toContain(
      'There is £12.38 to pay for firing. Pay',
    );
  });
  test('of sixty pieces, where nothing is owed', () => {
    const many = CollectionContent.parse({ ...notice, pieces: manyPieces(60), firingFees: [], otherOwed: [] });
    const { text } = letterFor('collection', collectionData(many), to);
    expect(text).toContain('There is nothing to pay.');
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
