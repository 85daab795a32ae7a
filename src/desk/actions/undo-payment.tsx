import { useState } from 'preact/hooks';
import { api, type Schemas } from '../api/client';
import type { Formatter } from '../format/formatter';
import { Field } from '../forms/field';
import { limitOf } from '../forms/limits';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { PreviewedAction } from './previewed-action';

type Props = { paymentId: string; about?: string; formatter: Formatter };
type Reversal = Schemas['PaymentReversal'];

/** Takes a payment back that was entered by mistake: an entry that names it, and a credit note for its receipt. */
export function UndoPayment({ paymentId, about, formatter: { moneyInText } }: Props) {
  const [reason, setReason] = useState('Entered by mistake');
  const path = { paymentId };
  return (
    <DialogButton label="Undo" {...(about && { about })} title="Undo this payment">
      {(close) => (
        <>
          <Field
            label="Reason"
            value={reason}
            onChange={setReason}
            maxLength={limitOf('NewPaymentReversalInput', '#/reason').maxLength}
          />
          <PreviewedAction<{ reason: string }, Reversal>
            name={`undo ${paymentId}`}
            wish={reason.trim() === '' ? null : { reason: reason.trim() }}
            ask={(body, signal) =>
              api.POST('/api/payments/{paymentId}/reversal/preview', { params: { path }, body, signal })
            }
            send={(body, headers) =>
              api.POST('/api/payments/{paymentId}/reversal', { params: { path }, body, headers })
            }
            save={({ outcome }) => `Undo payment of ${moneyInText(outcome.amountMinor)}`}
            onDone={(done) => {
              close();
              toast(<Undone done={done} {...{ moneyInText }} />);
            }}
            onCancel={close}
          >
            {({ amountMinor, voucherLeftMinor, bookings }) => (
              <>
                <p>
                  The {moneyInText(amountMinor)} will be owed again, and a credit note takes the receipt back
                  {voucherLeftMinor !== null && `; ${moneyInText(voucherLeftMinor)} is on the voucher then`}.
                </p>
                {bookings.map(({ bookingId, courseTitle, said }) => (
                  <p key={bookingId}>
                    <b>{courseTitle}:</b> {said}
                  </p>
                ))}
              </>
            )}
          </PreviewedAction>
        </>
      )}
    </DialogButton>
  );
}

function Undone({ done, moneyInText }: { done: Reversal } & Pick<Formatter, 'moneyInText'>) {
  return (
    <>
      <span>The payment of {moneyInText(done.amountMinor)} is undone.</span>
      <a href={`/api/documents/${done.documentId}/pdf`} target="_blank" rel="noopener">
        Open credit note {done.creditNoteNumber}
      </a>
    </>
  );
}
