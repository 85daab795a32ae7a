import { useState } from 'preact/hooks';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, type Schemas } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import { codeOf, type Voucher } from '../voucher-labels';

type Wish = Schemas['NewVoucherExtensionInput'];
type Props = { voucher: Voucher; formatter: Formatter };

/** Makes a voucher valid for longer, its letter seen first. */
export function ExtendVoucher(props: Props) {
  return (
    <DialogButton
      label="Extend"
      about={`voucher ${codeOf(props.voucher)}`}
      title={`Extend voucher ${codeOf(props.voucher)}`}
    >
      {(close) => <Extending {...props} onClose={close} />}
    </DialogButton>
  );
}

function Extending({ voucher, formatter, onClose }: Props & { onClose(): void }) {
  const [validUntil, setValidUntil] = useState('');
  const [reason, setReason] = useState('');
  const params = { path: { voucherId: voucher.id } };
  return (
    <>
      <div class="pairs">
        <Field label="Valid until" type="date" value={validUntil} onChange={setValidUntil} />
        <Field
          label="Why"
          hint="For your books; the letter does not say it"
          value={reason}
          onChange={setReason}
          maxLength={limitOf('NewVoucherExtensionInput', '#/reason').maxLength}
        />
      </div>
      <PreviewedAction<Wish, Voucher>
        name={`extend ${voucher.id}`}
        wish={validUntil && reason.trim() ? { validUntil, reason: reason.trim() } : null}
        ask={(body, signal) => api.POST('/api/vouchers/{voucherId}/extensions/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/vouchers/{voucherId}/extensions', { params, body, headers })}
        save={({ outcome }) => outcome.validUntil && `Extend to ${formatter.fullDate(outcome.validUntil)}`}
        onDone={(extended) => {
          onClose();
          toast(
            <span>
              Voucher {codeOf(extended)} is valid until {extended.validUntil && formatter.fullDate(extended.validUntil)}
              .
            </span>,
          );
        }}
        onCancel={onClose}
      >
        {({ leftMinor, buyerName }) => (
          <p>
            {formatter.moneyInText(leftMinor)} is left on it. {buyerName} gets a new paper with the same code.
          </p>
        )}
      </PreviewedAction>
    </>
  );
}
