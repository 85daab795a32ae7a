import './receivables.css';
import '../../../actions/payment/payment.css';
import { useState } from 'preact/hooks';
import type { Debtor } from '../../../actions/payment/charge-totals';
import type { Paid } from '../../../actions/payment/payment-form';
import { Receipt } from '../../../actions/payment/receipt';
import { SendReminders } from '../../../actions/send-reminders';
import { UndoPayment } from '../../../actions/undo-payment';
import { api } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { type At, Page } from '../../../ui/page';
import { MoneyTabs } from '../money-tabs';
import { Planks } from './balance-bars';
import { ByKind } from './by-charge-kind';
import { ByPerson } from './by-person';
import { canBeReminded } from './can-be-reminded';
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
  const shared = { debtors, formatter, today: me.today };
  return (
    <>
      <Answer debtors={debtors} formatter={formatter} />
      {paid && (
        <>
          <Receipt key={paid.payment.id} paid={paid} money={formatter.money} />
          <UndoPayment key={`undo ${paid.payment.id}`} paymentId={paid.payment.id} formatter={formatter} />
        </>
      )}
      {debtors.length > 0 && (
        <>
          <Planks debtors={debtors.filter(({ owedMinor }) => owedMinor > 0)} formatter={formatter} />
          <ByPerson {...shared} onPaid={setPaid} />
          <RemindAll {...shared} />
          <ByKind {...shared} />
        </>
      )}
    </>
  );
}

type RemindProps = { debtors: readonly Debtor[]; today: string; formatter: Formatter };

/** One button for all who are due and were left in peace long enough. */
function RemindAll({ debtors, today, formatter }: RemindProps) {
  if (!debtors.some(({ dueMinor }) => dueMinor > 0)) return null;
  const people = debtors.filter((debtor) => canBeReminded(debtor, today));
  if (people.length === 0)
    return <p class="quiet no-paper">Everyone with money due has been reminded within the last seven days.</p>;
  const [only] = people;
  const label = people.length === 1 ? `Write ${only?.name} a reminder` : `Remind all ${people.length} who are due`;
  return (
    <p>
      <SendReminders {...{ people, label, formatter }} />
    </p>
  );
}
