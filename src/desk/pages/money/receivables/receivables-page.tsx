import './receivables.css';
import '../../../payment/charges.css';
import '../../../ui/styles/people.css';
import '../../../payment/payment.css';
import { useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import type { Debtor } from '../../../payment/charge-totals';
import type { Paid } from '../../../payment/payment-form';
import { Receipt } from '../../../payment/receipt';
import { type At, Page } from '../../../ui/page';
import { MoneyTabs } from '../money-tabs';
import { Planks } from './balance-bars';
import { ByKind } from './by-charge-kind';
import { ByPerson } from './by-person';
import { RemindAll, RemindersTold } from './reminders';
import { canBeReminded, type Reminded, remindAll } from './send-reminders';
import { Answer } from './summary';

const readDebtors = async (): Promise<Debtor[]> => (await api.GET('/api/debtors')).data?.items ?? [];

/** Who owes? */
export function ReceivablesPage() {
  return (
    <Page question="Who owes?" tabs={(me) => <MoneyTabs me={me} />} read={readDebtors}>
      {(debtors, at) => <Owing debtors={debtors} {...at} />}
    </Page>
  );
}

function Owing({ debtors, me, formatter }: At & { debtors: readonly Debtor[] }) {
  const [paid, setPaid] = useState<Paid | null>(null);
  const [reminded, setReminded] = useState<Reminded | null>(null);
  const { run, busy, error } = useMutation({ thenRead: true });
  const shared = { debtors, formatter, today: me.today };
  const takeNote = (next: Paid) => {
    setPaid(next);
    setReminded(null);
  };
  const remind = async (whom: readonly Debtor[]) => {
    setPaid(null);
    setReminded(null);
    let told: Reminded | null = null;
    const wish = whom.map(({ personId }) => personId);
    await run(['remind', wish], async (headers) => {
      told = await remindAll(whom, headers);
    });
    setReminded(told);
  };
  const due = debtors.filter((debtor) => canBeReminded(debtor, me.today));
  return (
    <>
      <Answer debtors={debtors} formatter={formatter} />
      {paid && <Receipt key={paid.payment.id} paid={paid} money={formatter.money} />}
      {reminded && <RemindersTold reminded={reminded} money={formatter.money} />}
      {error && <ErrorMessage>{error}</ErrorMessage>}
      {debtors.length > 0 && (
        <>
          <Planks debtors={debtors.filter(({ owedMinor }) => owedMinor > 0)} formatter={formatter} />
          <ByPerson {...shared} onPaid={takeNote} onRemind={(debtor) => !busy && remind([debtor])} />
          <RemindAll
            due={due}
            anybodyDue={debtors.some(({ dueMinor }) => dueMinor > 0)}
            busy={busy}
            onRemind={remind}
          />
          <ByKind {...shared} />
        </>
      )}
    </>
  );
}
