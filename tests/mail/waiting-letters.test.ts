import { describe, expect, test } from 'vitest';
import { letterFor } from '../../src/mail/letters.js';

const studio = { name: 'Alder Lane Pottery', addressLines: ['7 Alder Lane'], email: null, phone: null };
const to = { studio, personName: 'Tomas Reyl' };
const sessions = ['Tuesday 14 April 2026, 19:00 to 21:30, Wheel room'];
/** What a letter says, whatever its lines. */
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

describe('letters', () => {
  test('of a place that is cancelled says which stays, and what it still needs', () => {
    const data = {
      ...{ booking: 'Lidded jars, 14 April 2026, 3 places', cancelled: ['Ana Lind'], staying: ['Bo Lind', 'Cy Lind'] },
      ...{
        paid: null,
        explanation: null,
        owed: '£240.00',
        hold: { until: 'Friday 13 March 2026, 18:00', deposit: '£60.00' },
      },
    };
    const { subject, text } = letterFor('placeCancelled', data, to);
    expect(subject).toBe('Cancelled: Ana Lind’s place, Lidded jars, 14 April 2026, 3 places');
    for (const words of [
      'Ana Lind’s place on this booking is cancelled: Lidded jars, 14 April 2026, 3 places. Bo Lind and Cy Lind’s places stay booked.',
      'We hold Bo Lind and Cy Lind’s places until Friday 13 March 2026, 18:00. To keep them, please pay the deposit of £60.00 by then.',
      'What is still to pay in all is £240.00.',
    ])
      expect(flat(text)).toContain(words);
    const late = { ...data, staying: ['Bo Lind'], paid: '£30.00', explanation: 'Too late.', owed: null, hold: null };
    const kept = flat(letterFor('placeCancelled', late, to).text);
    expect(kept).toContain(
      'Bo Lind’s place stays booked. The £30.00 paid for what is cancelled is not refunded. Too late.',
    );
    expect(kept).toContain('There is nothing more to pay.');
  });
  test('of an offer says until when, how to answer and what it costs, and afterwards that it is over', () => {
    const data = { course: 'Lidded jars', sessions, places: 1, until: 'Friday 13 March 2026, 18:00' };
    const { subject, text } = letterFor('placeOffered', { ...data, price: '£120.00' }, to);
    expect(subject).toBe('A place on Lidded jars for you, until Friday 13 March 2026, 18:00');
    for (const words of [
      'a place on Lidded jars has become free, and you are next on our waiting list. We keep it for you until Friday 13 March 2026, 18:00. If you would like it, just reply to this email by then',
      'When: Tuesday 14 April 2026, 19:00 to 21:30, Wheel room',
      'The price is £120.00. Once you have said yes, we’ll tell you how to pay.',
    ])
      expect(flat(text)).toContain(words);
    const two = flat(letterFor('placeOffered', { ...data, places: 2, price: '£120.00' }, to).text);
    expect(two).toContain('2 places on Lidded jars have become free');
    expect(two).toContain('The price is £120.00 a place.');
    const over = letterFor('offerLapsed', data, to);
    expect(over.subject).toBe('No longer kept for you: a place on Lidded jars');
    expect(flat(over.text)).toContain(
      'So we no longer keep it, and you are no longer on the waiting list. There is nothing to pay.',
    );
  });
});
