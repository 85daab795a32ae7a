import { useState } from 'preact/hooks';
import { type Debtor, together } from '../../../actions/payment/charge-totals';
import { type Paid, PaymentForm } from '../../../actions/payment/payment-form';
import { SendReminders } from '../../../actions/send-reminders';
import type { Formatter } from '../../../format/formatter';
import { canBeReminded } from './can-be-reminded';
import { ChargeTable } from './charge-table';

type Props = {
  debtors: readonly Debtor[];
  today: string;
  formatter: Formatter;
  onPaid(paid: Paid): void;
};
type Open = { personId: string; paying: boolean } | null;

/** The table by person; each row opens to the charges that it sums up, or to a payment. */
export function ByPerson({ debtors, today, formatter, onPaid }: Props) {
  const [open, setOpen] = useState<Open>(null);
  const { money } = formatter;
  const all = together(debtors);
  const holds = all.heldMinor > 0;
  return (
    <section>
      <table class="people" id="by-person">
        <caption>By person</caption>
        <thead>
          <tr>
            <th scope="col">Who</th>
            <th scope="col" class="number">
              Due now
            </th>
            <th scope="col" class="number">
              Not due yet
            </th>
            <th scope="col" class="number">
              Total
            </th>
            <th scope="col" class="number">
              Of which firing
            </th>
            {holds && (
              <th scope="col" class="number">
                Held, not owed
              </th>
            )}
            <th scope="col" class="act">
              <span class="heard">Actions</span>
            </th>
          </tr>
        </thead>
        {debtors.map((debtor) => (
          <Person
            key={debtor.personId}
            {...{ debtor, today, formatter, holds }}
            onPaid={(paid) => {
              setOpen(null);
              onPaid(paid);
            }}
            open={open?.personId === debtor.personId ? open : null}
            onOpen={setOpen}
          />
        ))}
        <tbody>
          <tr class="sum">
            <th scope="row">Total</th>
            <td class="number due">{money(all.dueMinor)}</td>
            <td class="number later">{money(all.owedMinor - all.dueMinor)}</td>
            <td class="number all">{money(all.owedMinor)}</td>
            <td class="number firing">{money(all.firingOwedMinor)}</td>
            {holds && <td class="number held">{money(all.heldMinor)}</td>}
            <td class="act" />
          </tr>
        </tbody>
      </table>
    </section>
  );
}

type PersonProps = Omit<Props, 'debtors'> & { debtor: Debtor; holds: boolean; open: Open; onOpen(next: Open): void };

function Person({ debtor, today, formatter, holds, open, onOpen, onPaid }: PersonProps) {
  const { personId, name, owedMinor, dueMinor, firingOwedMinor, heldMinor, charges, remindedOn } = debtor;
  const { money } = formatter;
  return (
    <tbody>
      <tr class="person">
        <th scope="row">
          <button
            type="button"
            class="opens"
            aria-expanded={open !== null}
            onClick={() => onOpen(open ? null : { personId, paying: false })}
          >
            {name}
          </button>
          {remindedOn && <small class="reminded">reminded {formatter.day(remindedOn, today)}</small>}
        </th>
        <td class={dueMinor > 0 ? 'number due iron' : 'number due none'}>{money(dueMinor)}</td>
        <td class={owedMinor > dueMinor ? 'number later' : 'number later none'}>{money(owedMinor - dueMinor)}</td>
        <td class="number all">{money(owedMinor)}</td>
        <td class={firingOwedMinor > 0 ? 'number firing' : 'number firing none'}>{money(firingOwedMinor)}</td>
        {holds && <td class={heldMinor > 0 ? 'number held' : 'number held none'}>{money(heldMinor)}</td>}
        <td class="act">
          <button type="button" class="quiet" onClick={() => onOpen({ personId, paying: true })}>
            Take a payment<span class="heard"> of {name}</span>
          </button>
        </td>
      </tr>
      <tr class="opened" hidden={!open}>
        <td colSpan={holds ? 7 : 6}>
          {open?.paying ? (
            <PaymentForm {...{ debtor, formatter, onPaid }} onLeave={() => onOpen({ personId, paying: false })} />
          ) : (
            <>
              <ChargeTable charges={charges} caption={`What ${name} owes`} {...{ today, formatter }} />
              {canBeReminded(debtor, today) && (
                <SendReminders people={[{ personId, name }]} label={`Write ${name} a reminder`} formatter={formatter} />
              )}
            </>
          )}
        </td>
      </tr>
    </tbody>
  );
}
