import './payment/payment.css';
import { useCallback } from 'preact/hooks';
import { api, Refused } from '../api/client';
import { useQuery } from '../api/query';
import type { Formatter } from '../format/formatter';
import { DialogButton } from '../ui/dialog';
import { LookedUp } from '../ui/looked-up';
import { toast } from '../ui/toast';
import type { Debtor } from './payment/charge-totals';
import { type Paid, PaymentForm } from './payment/payment-form';
import { UndoPayment } from './undo-payment';

type Person = { personId: string; name: string };
type Props = { person: Person; formatter: Formatter };

/** Takes money of one person, for all or a part of what they owe. */
export function TakePayment({ person, formatter }: Props) {
  return (
    <DialogButton label="Take payment" about={`of ${person.name}`} title="Take a payment">
      {(close) => <Payment {...{ person, formatter }} onClose={close} />}
    </DialogButton>
  );
}

/** What they owe, to be paid; where they owe nothing, it says so. */
export function Payment({ person, formatter, onClose }: Props & { onClose(): void }) {
  const { personId, name } = person;
  const query = useDebtor(personId);
  const onPaid = (paid: Paid) => {
    onClose();
    toast(<Taken paid={paid} formatter={formatter} />);
  };
  return (
    <LookedUp what={`what ${name} owes`} query={query}>
      {(debtor) =>
        debtor === null ? (
          <p>{name} owes nothing.</p>
        ) : (
          <PaymentForm {...{ debtor, formatter, onPaid }} onLeave={onClose} />
        )
      }
    </LookedUp>
  );
}

/** What a person owes; null is nothing. */
export function useDebtor(personId: string) {
  const read = useCallback(
    async (signal: AbortSignal): Promise<Debtor | null> => {
      const { data } = await api.GET('/api/debtors', { params: { query: { personId } }, signal });
      if (!data) throw new Refused('unknown', 'What they owe could not be loaded. Close this and open it again.');
      return data.items[0] ?? null;
    },
    [personId],
  );
  return useQuery({ key: ['debtor', personId], read, enabled: personId !== '', fresh: true });
}

function Taken({ paid: { payment, name }, formatter }: { paid: Paid; formatter: Formatter }) {
  const { moneyInText } = formatter;
  return (
    <>
      <span>
        {name} paid {moneyInText(payment.amountMinor)}
        {payment.voucherLeftMinor !== null && `, and ${moneyInText(payment.voucherLeftMinor)} is left on the voucher`}.
      </span>
      <a href={`/api/documents/${payment.documentId}/pdf`} target="_blank" rel="noopener">
        Open receipt {payment.receiptNumber}
      </a>
      <UndoPayment paymentId={payment.id} formatter={formatter} />
    </>
  );
}
