import { type Debtor, together } from '../../../actions/payment/charge-totals';
import { capital, count, type Formatter } from '../../../format/formatter';

/** The answer in a sentence; each figure leads to the lines it was made of. */
export function Answer({ debtors, formatter: { moneyInText } }: { debtors: readonly Debtor[]; formatter: Formatter }) {
  const { owedMinor, dueMinor, firingOwedMinor, heldMinor } = together(debtors);
  const owing = debtors.filter((debtor) => debtor.owedMinor > 0).length;
  const held =
    heldMinor > 0 && ` ${moneyInText(heldMinor)} is asked for held places: it is owed once they are confirmed.`;
  if (owing === 0)
    return (
      <p class="answer">
        <span class="celadon">Nobody owes anything.</span>
        {held || ' Unpaid charges appear here.'}
      </p>
    );
  return (
    <p class="answer">
      <a href="#by-person">{capital(count(owing, 'person', 'people'))}</a> {owing === 1 ? 'owes' : 'owe'}{' '}
      <b>{moneyInText(owedMinor)}</b>;{' '}
      {firingOwedMinor > 0 ? (
        <>
          <a href="#by-kind">{moneyInText(firingOwedMinor)} of it</a>{' '}
          {firingOwedMinor === owedMinor ? 'and so all of it is' : 'is'} firing fees
        </>
      ) : (
        'none of it is firing fees'
      )}
      ; {dueMinor > 0 ? <b class="iron">{moneyInText(dueMinor)} is due now</b> : 'none of it is due yet'}.{held}
    </p>
  );
}
