import { useState } from 'preact/hooks';
import { PreviewedAction } from '../../../actions/previewed-action';
import type { RefundMethod } from '../../../actions/refund-methods';
import { api, type Schemas } from '../../../api/client';
import { capital, count, type Formatter, listed } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { type Column, DataTable } from '../../../ui/data-table';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import type { Course } from '../labels';
import { howBack, METHODS } from './how-back';

type Wish = Schemas['NewCourseCancellationInput'];
type Cause = Wish['cause'];
type Cancelled = Schemas['CourseCancellation'];
type CancelledBooking = Cancelled['bookings'][number];
type Props = { course: Course; formatter: Formatter };

/** Cancels a course as a whole: what goes back to whom, what it frees, and every letter are seen first. */
export function CancelCourse({ course, formatter }: Props) {
  return (
    <DialogButton label="Cancel course" title={`Cancel ${course.title}`}>
      {(close) => <Cancelling {...{ course, formatter }} onClose={close} />}
    </DialogButton>
  );
}

const CAUSES = [
  ['tooFew', 'Too few booked'],
  ['other', 'Something else'],
] as const;

function Cancelling({ course, formatter, onClose }: Props & { onClose(): void }) {
  const hasTooFew = course.placesTaken < course.minimum;
  const [cause, setCause] = useState<Cause>(hasTooFew ? 'tooFew' : 'other');
  const [reason, setReason] = useState(hasTooFew ? 'Too few people have booked for it to run.' : '');
  const [method, setMethod] = useState<RefundMethod | 'asPaid'>('asPaid');
  const how = method === 'asPaid' ? {} : { method };
  const wish: Wish | null = reason.trim() === '' ? null : { reason: reason.trim(), cause, ...how };
  const params = { path: { courseId: course.id } };
  return (
    <>
      <Field
        label="Reason, as the letters say it"
        value={reason}
        onChange={setReason}
        maxLength={limitOf('NewCourseCancellationInput', '#/reason').maxLength}
      />
      <div class="pairs">
        <Field<Cause>
          label="Cause"
          hint="Prices learn from it only if too few booked"
          choices={CAUSES}
          value={cause}
          onChange={setCause}
        />
        <Field<RefundMethod | 'asPaid'> label="Paid back" choices={METHODS} value={method} onChange={setMethod} />
      </div>
      {wish === null && <p class="quiet">Write the reason to see what would happen.</p>}
      <PreviewedAction<Wish, Cancelled>
        name={`cancel course ${course.id}`}
        wish={wish}
        ask={(body, signal) => api.POST('/api/courses/{courseId}/cancellation/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/courses/{courseId}/cancellation', { params, body, headers })}
        save={({ outcome, letters }) => saveLabel(outcome, letters.length, formatter)}
        onDone={(done) => {
          onClose();
          toast(<span>{saidOf(done, formatter)}</span>);
        }}
        onCancel={onClose}
      >
        {(outcome) => <Outcome {...{ outcome, formatter }} />}
      </PreviewedAction>
    </>
  );
}

function saveLabel({ totals }: Cancelled, letters: number, { moneyInText }: Formatter): string {
  const refund = totals.refundMinor > 0 ? [`refund ${moneyInText(totals.refundMinor)}`] : [];
  const send = letters > 0 ? [`send ${count(letters, 'letter')}`] : [];
  return ['Cancel course', ...refund, ...send].join(', ');
}

function saidOf({ course, totals }: Cancelled, { moneyInText }: Formatter): string {
  const back = totals.refundMinor > 0 ? `, and ${moneyInText(totals.refundMinor)} goes back` : '';
  return `${course.title} is cancelled${back}.`;
}

function Outcome({ outcome, formatter }: { outcome: Cancelled; formatter: Formatter }) {
  const { bookings, waiting, alsoTold, freed } = outcome;
  return (
    <>
      <p>
        <b>{sumsOf(outcome, formatter)}</b>
      </p>
      {bookings.length > 0 && <Bookings {...{ outcome, formatter }} />}
      {outcome.totals.keptMinor > 0 && (
        <p>
          {formatter.moneyInText(outcome.totals.keptMinor)} was kept of places that were cancelled before. It stays so.
        </p>
      )}
      <ul aria-label="What else happens">
        {waiting.length > 0 && (
          <li>
            Off the waiting list:{' '}
            {listed(waiting.map(({ name, wasOffered }) => (wasOffered ? `${name} (had an offer)` : name)))}
          </li>
        )}
        {alsoTold.length > 0 && <li>Told at their own address: {listed(alsoTold.map(({ name }) => name))}</li>}
        {freed.sessions.map(({ sessionId, when, roomName, tutors }) => (
          <li key={sessionId}>
            Free again: {listed([roomName, ...tutors])}, {when}
          </li>
        ))}
        {freed.materials.length > 0 && <li>No longer set aside: {listed(freed.materials)}</li>}
        <li>Its kiln loads are no longer planned.</li>
      </ul>
    </>
  );
}

function sumsOf({ totals, waiting }: Cancelled, { moneyInText }: Formatter): string {
  const { people, refundMinor, onVoucherMinor, unpaidMinor } = totals;
  const had =
    people === 0
      ? 'Nobody has a place'
      : `${capital(count(people, 'person', 'people'))} ${people === 1 ? 'has' : 'have'} a place`;
  const wait = waiting.length === 0 ? '' : `, ${count(waiting.length, 'more waits', 'more wait')}`;
  const voucher = onVoucherMinor > 0 ? `, ${moneyInText(onVoucherMinor)} of it on vouchers` : '';
  const back = refundMinor > 0 ? `${moneyInText(refundMinor)} goes back${voucher}` : 'Nothing goes back';
  const unpaid = unpaidMinor > 0 ? `; ${moneyInText(unpaidMinor)} is no longer asked for` : '';
  return `${had}${wait}. ${back}${unpaid}.`;
}

/** The refund line by line: who paid what, and how it goes back. */
function Bookings({ outcome: { bookings, totals }, formatter }: { outcome: Cancelled; formatter: Formatter }) {
  const { money } = formatter;
  const paidMinor = bookings.reduce((sum, booking) => sum + booking.paidMinor, 0);
  const figures = (
    head: string,
    of: (booking: CancelledBooking) => number,
    total: number,
  ): Column<CancelledBooking> => ({
    ...{ head, figures: true, cell: (booking) => money(of(booking)), total: money(total) },
    toneOf: (booking) => (of(booking) === 0 ? 'none' : undefined),
  });
  const columns: Column<CancelledBooking>[] = [
    { head: 'Paid by', cell: ({ payerName }) => payerName },
    { head: 'For', cell: ({ attendees }) => listed(attendees) },
    { head: 'State', cell: ({ state }) => (state === 'provisional' ? 'Held' : 'Confirmed') },
    figures('Not asked for', ({ unpaidMinor }) => unpaidMinor, totals.unpaidMinor),
    figures('Paid', (booking) => booking.paidMinor, paidMinor),
    figures('Goes back', ({ refundMinor }) => refundMinor, totals.refundMinor),
    { head: 'How', cell: (booking) => howBack(booking, formatter) },
  ];
  return (
    <DataTable
      caption="What goes back"
      {...{ columns }}
      rows={bookings}
      keyOf={({ bookingId }) => bookingId}
      total={bookings.length > 1 ? 'Total' : undefined}
    />
  );
}
