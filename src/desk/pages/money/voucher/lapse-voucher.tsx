import { useState } from 'preact/hooks';
import { api, type Schemas } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import { codeOf, type TaxRate, type Voucher } from '../voucher-labels';

type Props = { voucher: Voucher; rates: readonly TaxRate[]; formatter: Formatter };

/** Takes what is left on an expired voucher as income. */
export function LapseVoucher(props: Props) {
  return (
    <DialogButton label="Let the rest lapse" title={`What is left on voucher ${codeOf(props.voucher)} lapses`}>
      {(close) => <Lapsing {...props} onClose={close} />}
    </DialogButton>
  );
}

function Lapsing({ voucher, rates, formatter, onClose }: Props & { onClose(): void }) {
  const [taxRateId, setTaxRateId] = useState('');
  const mutation = useMutation();
  const rest = formatter.moneyInText(voucher.leftMinor);
  const lapse = async () => {
    const body: Schemas['NewLapseInput'] = voucher.taxed === 'when-sold' ? {} : { taxRateId: taxRateId || null };
    const params = { path: { voucherId: voucher.id } };
    const done = await mutation.run(body, async (headers) => {
      await api.POST('/api/vouchers/{voucherId}/lapse', { params, body, headers });
    });
    if (!done) return;
    onClose();
    toast(
      <span>
        {rest} of voucher {codeOf(voucher)} lapsed.
      </span>,
    );
  };
  return (
    <>
      <p>
        {rest} becomes income of yours, and can't be used any more. Whether a voucher may lapse, and after how long, is
        a matter of your country's law: ask before you do it.
      </p>
      {voucher.taxed === 'when-used' && rates.length > 0 && (
        <Field
          label="VAT on it"
          hint="It differs between countries; ask your accountant"
          choices={[['', 'None'], ...rates.map(({ id, name }) => [id, name] as const)]}
          value={taxRateId}
          onChange={setTaxRateId}
        />
      )}
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <p class="acts">
        <button type="button" aria-disabled={mutation.busy} onClick={lapse}>
          Let {rest} lapse
        </button>
        <button type="button" class="quiet" onClick={onClose}>
          Cancel
        </button>
      </p>
    </>
  );
}
