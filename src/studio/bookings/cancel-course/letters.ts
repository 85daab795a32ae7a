import type { Transaction } from '../../../database/transaction.js';
import { moneyInText } from '../../../documents/words.js';
import type { CourseCancelledData } from '../../../mail/templates/course-cancelled.js';
import type { RefundLetter } from '../../accounts/charges/credit-notes.js';
import type { PaidBack } from '../../accounts/payments/record-payment.js';
import type { Course } from '../../courses/contract.js';
import { datesInWords, momentInWords } from '../../courses/session-dates.js';
import { notify } from '../../notices/service.js';
import type { Studio } from '../../settings/contract.js';
import { getStudio } from '../../settings/service.js';
import type { Booking } from '../contract.js';
import { comersOf } from '../groups/comers.js';
import type { OtherAttendee } from '../other-attendees.js';
import { listCoursesWithPlaces } from '../queries.js';

const OTHERS_MAX = 3;

const HOW: Record<PaidBack['method'], string> = {
  cash: 'in cash',
  card: 'to your card',
  transfer: 'by transfer',
  voucher: 'on your voucher',
};

/** The letters that say that a course does not take place: to who pays, who comes, and who waits. */
export async function lettersOf(tx: Transaction, now: Date, course: Course, reason: string) {
  const studio = await getStudio(tx);
  const money = moneyInText(studio);
  const others = await othersInWords(tx, now, course, studio);
  const dates = datesInWords(course.sessions, studio);
  const dataFor = (more: Pick<CourseCancelledData, 'role'> & Partial<CourseCancelledData>): CourseCancelledData => ({
    ...{ course: course.title, dates, reason, attendees: [], refund: null, kept: null, others },
    ...more,
  });
  const payerData = (booking: Booking, keptMinor: number, refund: CourseCancelledData['refund']) =>
    dataFor({
      ...{ role: 'payer', attendees: comersOf(booking), refund },
      kept: keptMinor > 0 ? money(keptMinor) : null,
    });
  const tell = (personId: string, data: CourseCancelledData) =>
    notify(tx, now, { personId, occasion: 'courseCancelled', data });
  return {
    /** What a payer gets with the credit note of the refund. */
    withCreditNote:
      (booking: Booking, { refundMinor, keptMinor }: { refundMinor: number; keptMinor: number }): RefundLetter =>
      ({ creditNoteNumber, paidBack }) => ({
        occasion: 'courseCancelled',
        data: payerData(booking, keptMinor, {
          ...{ amount: money(refundMinor), creditNoteNumber },
          parts: paidBack.map((part) => paidBackInWords(part, money, paidBack.length > 1)),
        }),
      }),
    /** To a payer to whom nothing goes back. */
    tellPayer: (booking: Booking, keptMinor: number) => tell(booking.payerId, payerData(booking, keptMinor, null)),
    tellAttendee: ({ personId, name }: OtherAttendee) =>
      tell(personId, dataFor({ role: 'attendee', attendees: [name] })),
    tellWaiting: ({ personId, wasOffered }: { personId: string; wasOffered: boolean }) =>
      tell(personId, dataFor({ role: wasOffered ? 'offered' : 'waiting' })),
  };
}
export type Letters = Awaited<ReturnType<typeof lettersOf>>;

/** "by transfer", or "£40 by transfer" where it is one of several. */
export function paidBackInWords(
  { amountMinor, method, voucher }: PaidBack,
  money: (minor: number) => string,
  isOneOfMany: boolean,
) {
  const how = voucher ? `on ${voucher.isNew ? 'a new' : 'your'} voucher ${voucher.code}` : HOW[method];
  return isOneOfMany ? `${money(amountMinor)} ${how}` : how;
}

/** Up to three others, those of the same plan first, then by their first day. */
async function othersInWords(tx: Transaction, now: Date, course: Course, studio: Studio): Promise<string[]> {
  const found = await listCoursesWithPlaces(tx, now, course, OTHERS_MAX);
  return found.map(
    ({ title, startsAt, placesLeft }) =>
      `${title}, from ${momentInWords(startsAt, studio)}: ${placesLeft} ${placesLeft === 1 ? 'place' : 'places'} left`,
  );
}
