import '../look/owes.css';
import '../look/charges.css';
import '../look/people.css';
import '../look/payment.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { api } from '../client';
import { type At, Page } from '../page';
import { Answer } from './answer';
import { ByKind } from './by-kind';
import { ByPerson } from './by-person';
import type { Paid } from './payment-form';
import { Planks } from './planks';
import type { Debtor } from './reckoning';

const readDebtors = async (): Promise<Debtor[]> => (await api.GET('/api/debtors')).data?.items ?? [];

/** Who owes? */
export function OwesPage() {
  return (
    <Page question="Who owes?" read={readDebtors}>
      {(debtors, at) => <Owing debtors={debtors} {...at} />}
    </Page>
  );
}

function Owing({ debtors, me, tell, again }: At & { debtors: readonly Debtor[] }) {
  const [paid, setPaid] = useState<Paid | null>(null);
  const shared = { debtors, tell, today: me.today };
  const takeNote = (next: Paid) => {
    setPaid(next);
    void again();
  };
  return (
    <>
      <Answer debtors={debtors} tell={tell} />
      {paid && <Receipt key={paid.payment.id} paid={paid} money={tell.money} />}
      {debtors.length > 0 && (
        <>
          <Planks debtors={debtors} tell={tell} />
          <ByPerson {...shared} onPaid={takeNote} />
          <ByKind {...shared} />
        </>
      )}
    </>
  );
}

/** What just happened, where the keyboard goes next: the form that had it is gone. */
function Receipt({ paid: { payment, name }, money }: { paid: Paid; money(minor: number): string }) {
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => here.current?.focus(), []);
  return (
    <p class="done" role="status" tabIndex={-1} ref={here}>
      {name} paid {money(payment.amountMinor)}
      {payment.voucherLeftMinor !== null && `, and ${money(payment.voucherLeftMinor)} is left on the voucher`}.{' '}
      <a href={`/api/documents/${payment.documentId}/pdf`} target="_blank" rel="noopener">
        Open receipt {payment.receiptNumber}
      </a>
    </p>
  );
}
