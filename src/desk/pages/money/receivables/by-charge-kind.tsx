import { byKind, type Debtor, kindCalled } from '../../../actions/payment/charge-totals';
import { count, type Formatter } from '../../../format/formatter';
import { ChargeTable } from './charge-table';

type Props = { debtors: readonly Debtor[]; today: string; formatter: Formatter };

/** What is owed for each kind; each opens to its charges. */
export function ByKind({ debtors, today, formatter }: Props) {
  const { money } = formatter;
  return (
    <section id="by-kind">
      <h2>By kind</h2>
      {byKind(debtors).map(({ kind, people, owedMinor, dueMinor, charges }) => (
        <details key={kind} class="kind">
          <summary>
            <b>{kindCalled(kind)}</b>{' '}
            <span>
              {count(charges.length, 'charge')} of {count(people, 'person', 'people')},{' '}
              {dueMinor > 0 ? `${money(dueMinor)} due now` : 'none due yet'}
            </span>
            <b class="sum">{money(owedMinor)}</b>
          </summary>
          <div class="lines-of">
            <ChargeTable charges={charges} caption={kindCalled(kind)} {...{ today, formatter }} />
          </div>
        </details>
      ))}
    </section>
  );
}
