import type { Schemas } from '../../api/client';
import type { Formatter } from '../../format/formatter';

export type Letter = Schemas['Notice'];

export const OCCASIONS: Record<Letter['occasion'], string> = {
  booking: 'Booking received',
  placeConfirmed: 'Place confirmed',
  holdLapsed: 'Place no longer held',
  bookingCancelled: 'Booking cancelled',
  placeCancelled: 'Place cancelled',
  placeFilled: 'Place filled again',
  placeOffered: 'Place offered',
  offerLapsed: 'Offer no longer open',
  sessionMoved: 'Session moved',
  sessionCancelled: 'Session cancelled',
  sessionAdded: 'Session added',
  courseCancelled: 'Course cancelled',
  bookingMoved: 'Booking moved',
  makeUp: 'Session made up',
  makeUpEnded: 'Make-up taken off',
  membershipStarted: 'Membership started',
  membershipCharged: 'Membership fee',
  membershipFee: 'New membership fee',
  membershipPaused: 'Membership paused',
  membershipEnds: 'Membership ends',
  membershipGoesOn: 'Membership goes on',
  dayBefore: 'The day before',
  receipt: 'Receipt',
  refund: 'Refund',
  paymentReversed: 'Payment taken back',
  collection: 'Ready to collect',
  voucher: 'Voucher',
  reminder: 'Reminder',
};

export const STATES: Record<Letter['state'], string> = {
  waiting: 'Waiting to be sent',
  sent: 'Sent',
  written: 'Written to a file',
  failed: 'Failed',
  noAddress: 'No email address',
};

export const toneOf = (state: Letter['state']): string | undefined =>
  ({ waiting: 'amber', failed: 'iron', noAddress: 'iron', sent: undefined, written: undefined })[state];

/** What is known of its way, at the end: why it failed, or when it went. */
export function wayOf({ state, deliveries }: Pick<Letter, 'state' | 'deliveries'>, formatter: Formatter): string {
  const last = deliveries.at(-1);
  if (!last) return '';
  if (state === 'sent' || state === 'written') return `on ${formatter.date(formatter.dayOf(last.at))}`;
  return last.detail;
}
