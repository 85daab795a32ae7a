import { describe, expect, test } from 'vitest';
import { letterFor } from '../../src/mail/letters.js';

const studio = { name: 'Alder Lane Pottery', addressLines: ['7 Alder Lane'], email: null, phone: null };
const to = { studio, personName: 'Tomas Reyl' };
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

describe('the letter of a course that is cancelled', () => {
  const data = {
    ...{ course: 'Lidded jars', dates: '14 April 2026 to 5 May 2026', reason: 'Only two have booked' },
    ...{ role: 'payer', attendees: ['Tomas Reyl', 'Ana Reyl'], kept: null },
    refund: { amount: '£90', parts: ['£40 to your card', '£50 on your voucher AB12'], creditNoteNumber: 'C-7' },
    others: ['Lidded jars, from Tuesday 2 June 2026, 19:00: 3 places left'],
  };
  const text = (more: object) => flat(letterFor('courseCancelled', { ...data, ...more }, to).text);

  test('says why, what went back and how, and where there are places', () => {
    const { subject, text: whole } = letterFor('courseCancelled', data, to);
    expect(subject).toBe('Cancelled: Lidded jars, 14 April 2026 to 5 May 2026');
    expect(whole).toContain('  £40 to your card\n  £50 on your voucher AB12\n');
    for (const words of [
      'We’re sorry: Lidded jars, 14 April 2026 to 5 May 2026, does not take place. Only two have booked. This is for Tomas Reyl, Ana Reyl.',
      'We have refunded all that you paid for it, £90:',
      'There is nothing more to pay. Credit note C-7 is attached. Please keep it with the receipt that it corrects.',
      'These courses have places left: Lidded jars, from Tuesday 2 June 2026, 19:00: 3 places left',
      'If you would like one of them, or have a question, just reply to this email.',
    ])
      expect(flat(whole)).toContain(words);
  });

  test('says in one line what went back one way, or that there is nothing to pay', () => {
    expect(text({ refund: { ...data.refund, parts: ['by transfer'] } })).toContain(
      'We have refunded all that you paid for it, £90, by transfer. There is nothing more to pay.',
    );
    const unpaid = text({ refund: null, others: [] });
    expect(unpaid).toContain('There is nothing to pay. If you have a question, just reply to this email.');
    expect(unpaid).not.toContain('refunded');
  });

  test('names no sum to somebody who does not pay', () => {
    for (const role of ['attendee', 'waiting', 'offered']) {
      const said = text({ role, refund: null, attendees: role === 'attendee' ? ['Ana Reyl'] : [] });
      expect(said).not.toMatch(/£|to pay/);
      expect(said).toContain('Only two have booked.');
    }
    expect(text({ role: 'waiting', refund: null, attendees: [] })).toContain('no longer on the waiting list');
    expect(text({ role: 'offered', refund: null, attendees: [] })).toContain('is no longer kept for you');
  });
});

describe('the letter of a session that is cancelled', () => {
  const data = {
    ...{ course: 'Lidded jars', attendees: ['Tomas Reyl'], session: 'Tuesday 5 May 2026, 19:00 to 21:00, Long room' },
    ...{ reason: 'Mara is ill', sessions: ['Tuesday 14 April 2026, 19:00 to 21:30, Long room'] },
  };
  const text = (back: object | null, more: object = {}) =>
    flat(letterFor('sessionCancelled', { ...data, ...more, back }, to).text);

  test('says which, why and which take place, and no sum where nothing is given back', () => {
    const said = text(null);
    expect(said).toContain(
      'We’re sorry: one session of Lidded jars does not take place. Mara is ill. This session is cancelled: Tuesday 5 May 2026, 19:00 to 21:00, Long room This is for Tomas Reyl. The other session takes place: Tuesday 14 April 2026',
    );
    expect(said).not.toMatch(/£|to pay/);
    expect(text(null, { sessions: ['One', 'Two'] })).toContain('The other sessions take place: One Two');
  });

  test('says what comes off what is owed, and what is refunded', () => {
    const off = { amount: '£20', owed: '£70' };
    expect(text({ amount: '£20', off, parts: [], creditNoteNumber: null })).toContain(
      'For it we take £20 off what was still to pay for your booking. What is still to pay is £70. The other session',
    );
    const both = {
      amount: '£50',
      off: { amount: '£20', owed: null },
      parts: ['£30 by transfer'],
      creditNoteNumber: 'C-8',
    };
    expect(text(both)).toContain(
      'There is nothing more to pay. The rest we have refunded to you, £30 by transfer. Credit note C-8 is attached.',
    );
    const paid = {
      amount: '£50',
      off: null,
      parts: ['£20 in cash', '£30 on your voucher AB12'],
      creditNoteNumber: 'C-9',
    };
    expect(text(paid)).toContain(
      'For it we have refunded £50 to you: £20 in cash £30 on your voucher AB12 Credit note C-9',
    );
  });
});

test('the letter of one more session says when it is and that it costs nothing', () => {
  const data = {
    course: 'Lidded jars',
    attendees: ['Tomas Reyl'],
    session: 'Tuesday 12 May',
    note: null,
    sessions: ['A', 'B'],
  };
  const { subject, text } = letterFor('sessionAdded', data, to);
  expect(subject).toBe('One more session of Lidded jars');
  expect(flat(text)).toContain(
    'Lidded jars has one more session: Tuesday 12 May All sessions of the course, as they are now: A B',
  );
  expect(text).toContain('It costs nothing more.');
});
