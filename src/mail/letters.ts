import { BookingData, bookingLetter } from './templates/booking.js';
import { BookingCancelledData, bookingCancelledLetter } from './templates/booking-cancelled.js';
import { BookingMovedData, bookingMovedLetter } from './templates/booking-moved.js';
import { CollectionData, collectionLetter } from './templates/collection.js';
import { CourseCancelledData, courseCancelledLetter } from './templates/course-cancelled.js';
import { DayBeforeData, dayBeforeLetter } from './templates/day-before.js';
import { HoldLapsedData, holdLapsedLetter } from './templates/hold-lapsed.js';
import type { Correspondents, Letter } from './templates/letter.js';
import { MakeUpData, MakeUpEndedData, makeUpEndedLetter, makeUpLetter } from './templates/make-up.js';
import {
  MembershipChargedData,
  MembershipEndsData,
  MembershipFeeData,
  MembershipGoesOnData,
  MembershipPausedData,
  MembershipStartedData,
  membershipChargedLetter,
  membershipEndsLetter,
  membershipFeeLetter,
  membershipGoesOnLetter,
  membershipPausedLetter,
  membershipStartedLetter,
} from './templates/membership.js';
import { PaymentReversedData, paymentReversedLetter } from './templates/payment-reversed.js';
import { PlaceCancelledData, placeCancelledLetter } from './templates/place-cancelled.js';
import { PlaceConfirmedData, placeConfirmedLetter } from './templates/place-confirmed.js';
import { PlaceFilledData, placeFilledLetter } from './templates/place-filled.js';
import { OfferLapsedData, offerLapsedLetter, PlaceOfferedData, placeOfferedLetter } from './templates/place-offered.js';
import { ReceiptData, RefundData, receiptLetter, refundLetter } from './templates/receipt.js';
import { ReminderData, reminderLetter } from './templates/reminder.js';
import { SessionAddedData, sessionAddedLetter } from './templates/session-added.js';
import { SessionCancelledData, sessionCancelledLetter } from './templates/session-cancelled.js';
import { SessionMovedData, sessionMovedLetter } from './templates/session-moved.js';
import { VoucherData, voucherLetter } from './templates/voucher.js';

const LETTERS = {
  booking: (data: unknown, to: Correspondents) => bookingLetter(BookingData.parse(data), to),
  placeConfirmed: (data: unknown, to: Correspondents) => placeConfirmedLetter(PlaceConfirmedData.parse(data), to),
  holdLapsed: (data: unknown, to: Correspondents) => holdLapsedLetter(HoldLapsedData.parse(data), to),
  bookingCancelled: (data: unknown, to: Correspondents) => bookingCancelledLetter(BookingCancelledData.parse(data), to),
  placeCancelled: (data: unknown, to: Correspondents) => placeCancelledLetter(PlaceCancelledData.parse(data), to),
  placeFilled: (data: unknown, to: Correspondents) => placeFilledLetter(PlaceFilledData.parse(data), to),
  placeOffered: (data: unknown, to: Correspondents) => placeOfferedLetter(PlaceOfferedData.parse(data), to),
  offerLapsed: (data: unknown, to: Correspondents) => offerLapsedLetter(OfferLapsedData.parse(data), to),
  receipt: (data: unknown, to: Correspondents) => receiptLetter(ReceiptData.parse(data), to),
  refund: (data: unknown, to: Correspondents) => refundLetter(RefundData.parse(data), to),
  paymentReversed: (data: unknown, to: Correspondents) => paymentReversedLetter(PaymentReversedData.parse(data), to),
  collection: (data: unknown, to: Correspondents) => collectionLetter(CollectionData.parse(data), to),
  reminder: (data: unknown, to: Correspondents) => reminderLetter(ReminderData.parse(data), to),
  sessionMoved: (data: unknown, to: Correspondents) => sessionMovedLetter(SessionMovedData.parse(data), to),
  sessionCancelled: (data: unknown, to: Correspondents) => sessionCancelledLetter(SessionCancelledData.parse(data), to),
  sessionAdded: (data: unknown, to: Correspondents) => sessionAddedLetter(SessionAddedData.parse(data), to),
  courseCancelled: (data: unknown, to: Correspondents) => courseCancelledLetter(CourseCancelledData.parse(data), to),
  bookingMoved: (data: unknown, to: Correspondents) => bookingMovedLetter(BookingMovedData.parse(data), to),
  makeUp: (data: unknown, to: Correspondents) => makeUpLetter(MakeUpData.parse(data), to),
  makeUpEnded: (data: unknown, to: Correspondents) => makeUpEndedLetter(MakeUpEndedData.parse(data), to),
  membershipStarted: (data: unknown, to: Correspondents) =>
    membershipStartedLetter(MembershipStartedData.parse(data), to),
  membershipCharged: (data: unknown, to: Correspondents) =>
    membershipChargedLetter(MembershipChargedData.parse(data), to),
  membershipFee: (data: unknown, to: Correspondents) => membershipFeeLetter(MembershipFeeData.parse(data), to),
  membershipPaused: (data: unknown, to: Correspondents) => membershipPausedLetter(MembershipPausedData.parse(data), to),
  membershipEnds: (data: unknown, to: Correspondents) => membershipEndsLetter(MembershipEndsData.parse(data), to),
  membershipGoesOn: (data: unknown, to: Correspondents) => membershipGoesOnLetter(MembershipGoesOnData.parse(data), to),
  dayBefore: (data: unknown, to: Correspondents) => dayBeforeLetter(DayBeforeData.parse(data), to),
  voucher: (data: unknown, to: Correspondents) => voucherLetter(VoucherData.parse(data), to),
} as const;

/** Writes the letter for an occasion from its frozen data. @throws ZodError where the data is not that of the occasion */
export function letterFor(occasion: keyof typeof LETTERS, data: unknown, to: Correspondents): Letter {
  return LETTERS[occasion](data, to);
}
