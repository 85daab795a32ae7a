import { useState } from 'preact/hooks';
import { type Debtor, together } from '../../../actions/payment/charge-totals';
import { type Paid, PaymentForm } from '../../../actions/payment/payment-form';
import { SendReminders } from '../../../actions/send-reminders';
import type { Formatter } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';
import { canBeReminded } from './can-be-reminded';
import { ChargeTable } from './charge-table';

type Props = {
  debtors: readonly Debtor[];
  today: string;
  formatter: Formatter;
  onPaid(paid: Paid): void;
};
type Open = { personId: string; paying: boolean } | null;
type Opener = { open: Open; onOpen(next: Open): void };

/** The table by person; each row opens to the charges that it sums up, or to a payment. */
export function ByPerson({ debtors, today, formatter, onPaid }: Props) {
  const [open, setOpen] = useState<Open>(null);
  const paid = (what: Paid) => {
    setOpen(null);
    onPaid(what);
  };
  return (
    <section>
      <DataTable
        id="by-person"
        caption="By person"
        captionShown
        columns={columnsOf({ debtors, today, formatter, open, onOpen: setOpen })}
        rows={debtors}
        keyOf={({ personId }) => personId}
        detailOf={(debtor) =>
          open?.personId === debtor.personId && (
            <Detail {...{ debtor, today, formatter, open }} onOpen={setOpen} onPaid={paid} />
          )
        }
        total="Total"
      />
    </section>
  );
}

function columnsOf({
  debtors,
  today,
  formatter,
  open,
  onOpen,
}: Omit<Props, 'onPaid'> & Opener): readonly Column<Debtor>[] {
  const { money } = formatter;
  const all = together(debtors);
  const sum = (
    head: string,
    of: (owed: Omit<Debtor, 'name' | 'personId'>) => number,
    total: number,
  ): Column<Debtor> => ({
    ...{ head, figures: true, total: money(total) },
    cell: (debtor) => money(of(debtor)),
    toneOf: (debtor) => (of(debtor) > 0 ? undefined : 'none'),
  });
  const due = sum('Due now', ({ dueMinor }) => dueMinor, all.dueMinor);
  return [
    { head: 'Who', cell: (debtor) => <Name {...{ debtor, today, formatter, open, onOpen }} /> },
    { ...due, toneOf: ({ dueMinor }) => (dueMinor > 0 ? 'iron' : 'none') },
    sum('Not due yet', ({ owedMinor, dueMinor }) => owedMinor - dueMinor, all.owedMinor - all.dueMinor),
    { ...sum('Total', ({ owedMinor }) => owedMinor, all.owedMinor), toneOf: () => undefined },
    sum('Of which firing', ({ firingOwedMinor }) => firingOwedMinor, all.firingOwedMinor),
    ...(all.heldMinor > 0 ? [sum('Held, not owed', ({ heldMinor }) => heldMinor, all.heldMinor)] : []),
    {
      head: 'Actions',
      headHeard: true,
      cell: ({ personId, name }) => (
        <button type="button" class="quiet" onClick={() => onOpen({ personId, paying: true })}>
          Take a payment<span class="heard"> of {name}</span>
        </button>
      ),
    },
  ];
}

type PersonProps = Omit<Props, 'debtors' | 'onPaid'> & { debtor: Debtor } & Opener;

function Name({ debtor: { personId, name, remindedOn }, today, formatter, open, onOpen }: PersonProps) {
  const isOpen = open?.personId === personId;
  return (
    <>
      <button
        type="button"
        class="opens"
        aria-expanded={isOpen}
        onClick={() => onOpen(isOpen ? null : { personId, paying: false })}
      >
        {name}
      </button>
      {remindedOn && <small class="reminded">reminded {formatter.day(remindedOn, today)}</small>}
    </>
  );
}

function Detail({ debtor, today, formatter, open, onOpen, onPaid }: PersonProps & Pick<Props, 'onPaid'>) {
  const { personId, name, charges } = debtor;
  if (open?.paying)
    return <PaymentForm {...{ debtor, formatter, onPaid }} onLeave={() => onOpen({ personId, paying: false })} />;
  return (
    <>
      <ChargeTable charges={charges} caption={`What ${name} owes`} {...{ today, formatter }} />
      {canBeReminded(debtor, today) && (
        <SendReminders people={[{ personId, name }]} label={`Write ${name} a reminder`} formatter={formatter} />
      )}
    </>
  );
}
