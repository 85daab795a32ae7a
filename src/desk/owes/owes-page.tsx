import '../look/owes.css';
import '../look/charges.css';
import '../look/people.css';
import '../look/payment.css';
import { useState } from 'preact/hooks';
import { api } from '../client';
import { type At, Page } from '../page';
import { Answer } from './answer';
import { ByKind } from './by-kind';
import { ByPerson } from './by-person';
import type { Paid } from './payment-form';
import { Planks } from './planks';
import { Receipt } from './receipt';
import type { Debtor } from './reckoning';
import { RemindAll, RemindersTold } from './reminders';
import { canBeReminded, type Reminded, remindAll } from './reminding';

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
  const [reminded, setReminded] = useState<Reminded | null>(null);
  const [busy, setBusy] = useState(false);
  const shared = { debtors, tell, today: me.today };
  const takeNote = (next: Paid) => {
    setPaid(next);
    setReminded(null);
    void again();
  };
  const remind = async (whom: readonly Debtor[]) => {
    setBusy(true);
    setPaid(null);
    setReminded(null);
    setReminded(await remindAll(whom));
    await again();
    setBusy(false);
  };
  const due = debtors.filter((debtor) => canBeReminded(debtor, me.today));
  return (
    <>
      <Answer debtors={debtors} tell={tell} />
      {paid && <Receipt key={paid.payment.id} paid={paid} money={tell.money} />}
      {reminded && <RemindersTold reminded={reminded} money={tell.money} />}
      {debtors.length > 0 && (
        <>
          <Planks debtors={debtors.filter(({ owedMinor }) => owedMinor > 0)} tell={tell} />
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
