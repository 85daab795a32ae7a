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
