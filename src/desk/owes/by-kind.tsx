import { count, type Tell } from '../tell';
import { ChargeTable } from './charge-table';
import { byKind, type Debtor, kindCalled } from './reckoning';

type Props = { debtors: readonly Debtor[]; today: string; tell: Tell };

/** What is owed for each kind; each opens to its charges. */
export function ByKind({ debtors, today, tell }: Props) {
  const { money } = tell;
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
            <ChargeTable charges={charges} caption={kindCalled(kind)} {...{ today, tell }} />
          </div>
        </details>
      ))}
    </section>
  );
}
