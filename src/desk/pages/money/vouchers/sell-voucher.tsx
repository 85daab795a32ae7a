import { useCallback, useState } from 'preact/hooks';
import { ChoosePerson, type Chosen } from '../../../actions/choose-person';
import { METHODS } from '../../../actions/payment/payment';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, Refused, type Schemas } from '../../../api/client';
import { useQuery } from '../../../api/query';
import type { Formatter } from '../../../format/formatter';
import { amountTyped } from '../../../forms/amount';
import { ChoiceField } from '../../../forms/choice-field';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import { codeOf, type TaxRate } from '../voucher-labels';

type Wish = Schemas['NewVoucherInput'];
type Method = Wish['method'];
type Props = { formatter: Formatter };

/** Sells a voucher: who buys it, what it is worth, and the paper and the letter before it is sold. */
export function SellVoucher({ formatter }: Props) {
  return (
    <DialogButton label="Sell a voucher" title="Sell a voucher">
      {(close) => <Selling formatter={formatter} onClose={close} />}
    </DialogButton>
  );
}

const MONEY_METHODS = METHODS.filter((method): method is readonly [Method, string] => method[0] !== 'voucher');
const NOTHING = { amount: '', method: 'cash' as Method, forWhom: '', goodFor: '', validUntil: '', taxRateId: '' };
const lengthOf = (pointer: string) => limitOf('NewVoucherInput', pointer).maxLength;

function Selling({ formatter, onClose }: Props & { onClose(): void }) {
  const [buyer, setBuyer] = useState<Chosen | null>(null);
  const [typed, setTyped] = useState(NOTHING);
  const wish = buyer && wishOf(buyer, typed, formatter.currency);
  if (!buyer) return <ChoosePerson label="Who buys it" onChoose={setBuyer} />;
  return (
    <>
      <p>
        <b>{buyer.name}</b>{' '}
        <button type="button" class="quiet" onClick={() => setBuyer(null)}>
          Choose somebody else
        </button>
      </p>
      <Particulars typed={typed} onChange={(next) => setTyped({ ...typed, ...next })} />
      <PreviewedAction<Wish, Schemas['SoldVoucher']>
        name="sell a voucher"
        wish={wish}
        ask={(body, signal) => api.POST('/api/vouchers/preview', { body, signal })}
        send={(body, headers) => api.POST('/api/vouchers', { body, headers })}
        save={({ outcome }) => `Sell it for ${formatter.moneyInText(outcome.amountMinor)}`}
        onDone={(sold) => {
          onClose();
          toast(<Sold sold={sold} formatter={formatter} />);
        }}
        onCancel={onClose}
      >
        {({ amountMinor, validUntil }) => (
          <p>
            {formatter.moneyInText(amountMinor)},{' '}
            {validUntil === null ? 'without an expiry date' : `valid until ${formatter.fullDate(validUntil)}`}. Its code
            is made when it is sold.
          </p>
        )}
      </PreviewedAction>
    </>
  );
}

type Typed = typeof NOTHING;

/** What it is worth, for whom, until when, and how it is paid and taxed. */
function Particulars({ typed, onChange: change }: { typed: Typed; onChange(next: Partial<Typed>): void }) {
  const rates = useTaxRates();
  return (
    <>
      <div class="pairs">
        <Field label="Worth" figures value={typed.amount} onChange={(amount) => change({ amount })} />
        <Field
          label="Valid until"
          hint="Left empty: no expiry date"
          type="date"
          value={typed.validUntil}
          onChange={(validUntil) => change({ validUntil })}
        />
        <Field
          label="For whom"
          hint="Printed on it"
          value={typed.forWhom}
          onChange={(forWhom) => change({ forWhom })}
          maxLength={lengthOf('#/forWhom')}
        />
        <Field
          label="Meant for"
          hint="Left empty: any course or firing"
          value={typed.goodFor}
          onChange={(goodFor) => change({ goodFor })}
          maxLength={lengthOf('#/goodFor')}
        />
      </div>
      <ChoiceField<Method>
        legend="How it is paid"
        choices={MONEY_METHODS}
        value={typed.method}
        onChange={(method) => change({ method })}
      />
      {rates.length > 0 && (
        <Field
          label="VAT"
          hint="Due now only where all that it can pay for has one rate; ask your accountant"
          choices={[['', 'Due when it is used'], ...rates.map(({ id, name }) => [id, `Due now, as ${name}`] as const)]}
          value={typed.taxRateId}
          onChange={(taxRateId) => change({ taxRateId })}
        />
      )}
    </>
  );
}

/** The code, and both papers to print. */
function Sold({ sold, formatter }: Props & { sold: Schemas['SoldVoucher'] }) {
  const { id, amountMinor, buyerName, documentId, receiptDocumentId, receiptNumber } = sold;
  const paper = (of: string, words: string) => (
    <a href={`/api/documents/${of}/pdf`} target="_blank" rel="noopener">
      {words}
    </a>
  );
  return (
    <>
      <span>
        Voucher <a href={`/money/vouchers/${id}`}>{codeOf(sold)}</a> of {formatter.moneyInText(amountMinor)} sold to{' '}
        {buyerName}.
      </span>
      {paper(documentId, 'Print the voucher')}
      {paper(receiptDocumentId, `Receipt ${receiptNumber}`)}
    </>
  );
}

function wishOf(buyer: Chosen, typed: Typed, currency: string): Wish | null {
  const amountMinor = amountTyped(typed.amount, currency);
  if (amountMinor === null) return null;
  const [forWhom, goodFor] = [typed.forWhom.trim(), typed.goodFor.trim()];
  return {
    ...{ buyerId: buyer.id, amountMinor, method: typed.method, taxRateId: typed.taxRateId || null },
    ...(forWhom && { forWhom }),
    ...(goodFor && { goodFor }),
    ...(typed.validUntil && { validUntil: typed.validUntil }),
  };
}

function useTaxRates(): readonly TaxRate[] {
  const read = useCallback(async (signal: AbortSignal) => {
    const { data } = await api.GET('/api/tax-rates', { signal });
    if (!data) throw new Refused('unknown', 'The VAT rates could not be loaded. Close this and open it again.');
    return data.items;
  }, []);
  return useQuery({ key: ['tax-rates'], read }).data ?? [];
}
