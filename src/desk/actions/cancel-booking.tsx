import { useState } from 'preact/hooks';
import { majorUnits } from '../../trade/money/money.js';
import { api, type Schemas } from '../api/client';
import type { Formatter } from '../format/formatter';
import { amountTyped } from '../forms/amount';
import { Field } from '../forms/field';
import { limitOf } from '../forms/limits';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { PreviewedAction } from './previewed-action';
import { REFUND_METHODS, type RefundMethod } from './refund-methods';

type Booking = Schemas['Booking'];
type Cancellation = Schemas['Cancellation'];
type Wish = { reason: string; method: RefundMethod; asOf?: string; refundMinor?: number };
type Props = {
  booking: Pick<Booking, 'id' | 'payerName' | 'paidMinor'>;
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

/** Cancels a booking; what goes back, why, and the letter that says so are seen first. */
export function CancelBooking({ booking, today, formatter, onClose }: Props) {
  const { currency, moneyInText } = formatter;
  const [reason, setReason] = useState('Cancelled by the student');
  const [method, setMethod] = useState<RefundMethod>('transfer');
  const [how, setHow] = useState<'policy' | 'own'>('policy');
  const [asOf, setAsOf] = useState(today);
  const [amount, setAmount] = useState(majorUnits(booking.paidMinor, currency));
  const refundMinor = how === 'own' ? amountTyped(amount, currency, 0) : null;
  const isReadable = reason.trim() !== '' && (how === 'policy' ? asOf !== '' : refundMinor !== null);
  const decided = how === 'policy' ? { asOf } : { refundMinor: refundMinor ?? 0 };
  const wish: Wish | null = isReadable ? { reason: reason.trim(), method, ...decided } : null;
  const path = { bookingId: booking.id };
  return (
    <>
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
      <PreviewedAction<Wish, Cancellation>
        name={`cancel ${booking.id}`}
        wish={wish}
        ask={(body, signal) =>
          api.POST('/api/bookings/{bookingId}/cancellation/preview', { params: { path }, body, signal })
        }
        send={(body, headers) =>
          api.POST('/api/bookings/{bookingId}/cancellation', { params: { path }, body, headers })
        }
        save={({ outcome }) =>
          outcome.refundMinor > 0 ? `Cancel booking, refund ${moneyInText(outcome.refundMinor)}` : 'Cancel booking'
        }
        onDone={(done) => {
          onClose();
          toast(<span>{saidOf(done, formatter)}</span>);
        }}
        onCancel={onClose}
      >
        {(outcome) => (
          <p>
            <b>{sumsOf(outcome, formatter)}</b> {outcome.because}
          </p>
        )}
      </PreviewedAction>
    </>
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

const saidOf = ({ booking, refundMinor }: Cancellation, { moneyInText }: Formatter) =>
  `${booking.payerName}’s booking is cancelled${refundMinor > 0 ? `, and ${moneyInText(refundMinor)} goes back` : ''}.`;
