import { useState } from 'preact/hooks';
import { api, type Schemas } from '../api/client';
import type { Formatter } from '../format/formatter';
import { Field } from '../forms/field';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { PreviewedAction } from './previewed-action';
import { REFUND_METHODS, type RefundMethod } from './refund-methods';

type Props = { bookingId: string; personName: string; formatter: Formatter };

/** Pays back what a place that is filled again made due. */
export function PayRefund({ bookingId, personName, formatter: { moneyInText } }: Props) {
  const [method, setMethod] = useState<RefundMethod>('transfer');
  const path = { bookingId };
  return (
    <DialogButton label="Pay refund" about={`to ${personName}`} title={`Refund ${personName}`}>
      {(close) => (
        <>
          <Field<RefundMethod> label="Paid back" choices={REFUND_METHODS} value={method} onChange={setMethod} />
          <PreviewedAction<{ method: RefundMethod }, Schemas['FurtherRefund']>
            name={`refund ${bookingId}`}
            wish={{ method }}
            ask={(body, signal) =>
              api.POST('/api/bookings/{bookingId}/further-refund/preview', { params: { path }, body, signal })
            }
            send={(body, headers) =>
              api.POST('/api/bookings/{bookingId}/further-refund', { params: { path }, body, headers })
            }
            save={({ outcome }) => `Refund ${moneyInText(outcome.refundMinor)}`}
            onDone={({ refundMinor }) => {
              close();
              toast(
                <span>
                  {moneyInText(refundMinor)} refunded to {personName}.
                </span>,
              );
            }}
            onCancel={close}
          >
            {({ refundMinor, onVoucherMinor }) => (
              <p>
                {moneyInText(refundMinor)} goes back, since the place is filled again
                {onVoucherMinor > 0 && `; ${moneyInText(onVoucherMinor)} of it on the voucher`}.
              </p>
            )}
          </PreviewedAction>
        </>
      )}
    </DialogButton>
  );
}
