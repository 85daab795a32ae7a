import { useState } from 'preact/hooks';
import { majorUnits } from '../../trade/money/money.js';
import { api, type Schemas } from '../api/client';
import { capital, count, type Formatter } from '../format/formatter';
import { amountTyped } from '../forms/amount';
import { CheckboxField } from '../forms/checkbox-field';
import { Field } from '../forms/field';
import { limitOf } from '../forms/limits';
import { type Column, DataTable } from '../ui/data-table';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { PreviewedAction } from './previewed-action';
import { REFUND_METHODS, type RefundMethod } from './refund-methods';
import { OfferPlace } from './waiting-list-offers';

type Booking = Schemas['Booking'];
type Cancellation = Schemas['Cancellation'];
type Place = Cancellation['places'][number];
type Wish = { reason: string; method: RefundMethod; attendeeIds?: string[]; asOf?: string; refundMinor?: number };
type Props = {
  booking: Pick<Booking, 'id' | 'payerName' | 'paidMinor' | 'attendees'>;
  today: string;
  formatter: Formatter;
  onClose(): void;
};

const HOW = [
  ['policy', 'By the refund policy'],
  ['own', 'An amount you decide'],
] as const;

/** A button that opens that, where the booking is listed. */
export function CancelBookingButton({ booking, about, ...rest }: Omit<Props, 'onClose'> & { about: string }) {
  return (
    <DialogButton label="Cancel booking" about={about} title={`Cancel the booking on ${about}`}>
      {(close) => <CancelBooking {...{ booking, ...rest }} onClose={close} />}
    </DialogButton>
  );
}

/** Cancels a booking, or some of its places; what goes back, why, and the letter that says so are seen first. */
export function CancelBooking({ booking, today, formatter, onClose }: Props) {
  const { currency, moneyInText } = formatter;
  const [reason, setReason] = useState('Cancelled by the student');
  const [method, setMethod] = useState<RefundMethod>('transfer');
  const [how, setHow] = useState<'policy' | 'own'>('policy');
  const [asOf, setAsOf] = useState(today);
  const [amount, setAmount] = useState(majorUnits(booking.paidMinor, currency));
  const [leaving, setLeaving] = useState(() => new Set(booking.attendees.map(({ personId }) => personId)));
  const refundMinor = how === 'own' ? amountTyped(amount, currency, 0) : null;
  const isDecided = how === 'policy' ? asOf !== '' : refundMinor !== null;
  const isReadable = reason.trim() !== '' && leaving.size > 0 && isDecided;
  const decided = how === 'policy' ? { asOf } : { refundMinor: refundMinor ?? 0 };
  const isPart = leaving.size < booking.attendees.length;
  const places = isPart ? { attendeeIds: [...leaving] } : {};
  const wish: Wish | null = isReadable ? { reason: reason.trim(), method, ...places, ...decided } : null;
  const deed = isPart ? `Cancel ${count(leaving.size, 'place')}` : 'Cancel booking';
  return (
    <>
      {booking.attendees.length > 1 && (
        <WhosePlaces attendees={booking.attendees} leaving={leaving} onChange={setLeaving} />
      )}
      <Field
        label="Reason, as the letter says it"
        value={reason}
        onChange={setReason}
        maxLength={limitOf('NewCancellationInput', '#/reason').maxLength}
      />
      <div class="pairs">
        <Field<'policy' | 'own'> label="Refund" choices={HOW} value={how} onChange={setHow} />
        {how === 'policy' ? (
          <Field label="Day of notice" type="date" value={asOf} onChange={setAsOf} />
        ) : (
          <Field
            label={`Amount, up to ${moneyInText(booking.paidMinor)}`}
            figures
            value={amount}
            onChange={setAmount}
            fault={refundMinor === null ? `Write an amount, for example ${majorUnits(1250, currency)}.` : undefined}
          />
        )}
        <Field<RefundMethod> label="Paid back" choices={REFUND_METHODS} value={method} onChange={setMethod} />
      </div>
      <Cancelled {...{ booking, wish, deed, formatter, onClose }} />
    </>
  );
}

type CancelledProps = Pick<Props, 'booking' | 'formatter' | 'onClose'> & { wish: Wish | null; deed: string };

function Cancelled({ booking, wish, deed, formatter, onClose }: CancelledProps) {
  const { moneyInText } = formatter;
  const path = { bookingId: booking.id };
  return (
    <PreviewedAction<Wish, Cancellation>
      name={`cancel ${booking.id}`}
      wish={wish}
      ask={(body, signal) =>
        api.POST('/api/bookings/{bookingId}/cancellation/preview', { params: { path }, body, signal })
      }
      send={(body, headers) => api.POST('/api/bookings/{bookingId}/cancellation', { params: { path }, body, headers })}
      save={({ outcome }) => (outcome.refundMinor > 0 ? `${deed}, refund ${moneyInText(outcome.refundMinor)}` : deed)}
      onDone={(done) => {
        onClose();
        toast(
          <>
            <span>{saidOf(done, formatter)}</span>
            {done.next && <OfferPlace courseId={done.booking.courseId} name={done.next.name} formatter={formatter} />}
          </>,
        );
      }}
      onCancel={onClose}
    >
      {(outcome) => (
        <>
          <p>
            <b>{sumsOf(outcome, formatter)}</b> {outcome.because}
          </p>
          {outcome.next && (
            <p>
              Next on the waiting list: <b>{outcome.next.name}</b>, for {count(outcome.next.places, 'place')}.
            </p>
          )}
          {booking.attendees.length > 1 && <PlaceLines outcome={outcome} formatter={formatter} />}
        </>
      )}
    </PreviewedAction>
  );
}

function sumsOf(
  { refundMinor, onVoucherMinor, keptMinor, furtherMinor }: Cancellation,
  { moneyInText }: Formatter,
): string {
  const voucher = onVoucherMinor > 0 ? `, ${moneyInText(onVoucherMinor)} of it on the voucher` : '';
  const back = refundMinor > 0 ? `${moneyInText(refundMinor)} goes back${voucher}` : 'Nothing goes back';
  const kept = keptMinor > 0 ? `; you keep ${moneyInText(keptMinor)}` : '';
  const later =
    furtherMinor > 0 ? `, of which ${moneyInText(furtherMinor)} goes back if the place is filled again` : '';
  return `${back}${kept}${later}.`;
}

const saidOf = ({ booking, refundMinor, places }: Cancellation, { moneyInText }: Formatter) => {
  const what =
    booking.state === 'cancelled'
      ? `${booking.payerName}’s booking is cancelled`
      : `${capital(count(places.length, 'place'))} of ${booking.payerName}’s booking ${places.length === 1 ? 'is' : 'are'} cancelled`;
  return `${what}${refundMinor > 0 ? `, and ${moneyInText(refundMinor)} goes back` : ''}.`;
};

type WhoseProps = {
  attendees: Booking['attendees'];
  leaving: ReadonlySet<string>;
  onChange(leaving: Set<string>): void;
};

/** All of them, until somebody who stays is unticked. */
function WhosePlaces({ attendees, leaving, onChange }: WhoseProps) {
  const turn = (id: string) => {
    const next = new Set(leaving);
    if (!next.delete(id)) next.add(id);
    onChange(next);
  };
  return (
    <fieldset>
      <legend>Places to cancel</legend>
      {attendees.map(({ personId, name, concession }) => (
        <CheckboxField key={personId} checked={leaving.has(personId)} onChange={() => turn(personId)}>
          {name}
          {concession && <small> {concession}</small>}
        </CheckboxField>
      ))}
      {leaving.size === 0 && <p class="quiet">Tick at least one place to cancel.</p>}
    </fieldset>
  );
}

/** How the refund is made up: what each place cost, its part of what was paid, and what becomes of that. */
function PlaceLines({ outcome, formatter }: { outcome: Cancellation; formatter: Formatter }) {
  const { money } = formatter;
  const { places } = outcome;
  if (places.every(({ paidMinor }) => paidMinor === 0)) return null;
  const sum = (of: (place: Place) => number) => money(places.reduce((total, place) => total + of(place), 0));
  const column = (head: string, of: (place: Place) => number): Column<Place> => ({
    ...{ head, figures: true, cell: (place) => money(of(place)), total: sum(of) },
  });
  const columns: Column<Place>[] = [
    { head: 'Place', cell: ({ name }) => name },
    column('Price', ({ priceMinor }) => priceMinor),
    column('Paid', ({ paidMinor }) => paidMinor),
    column('Goes back', ({ refundMinor }) => refundMinor),
    column('You keep', ({ keptMinor }) => keptMinor),
  ];
  return (
    <>
      <DataTable
        caption="The refund by place"
        {...{ columns }}
        rows={places}
        keyOf={({ personId }) => personId}
        total={places.length > 1 ? 'Total' : undefined}
      />
      <p class="quiet">What was paid for the booking is shared between its places by their prices.</p>
    </>
  );
}
