import type { Charge } from '../../../actions/payment/charge-totals';
import type { Formatter } from '../../../format/formatter';

type Props = { charges: readonly (Charge & { name?: string })[]; caption: string; today: string; formatter: Formatter };

/** The lines that a sum was made of: charged, less what was credited and paid, is owed. */
export function ChargeTable({ charges, caption, today, formatter: { money, day, dayOf } }: Props) {
  const named = charges.some(({ name }) => name);
  const held = charges.some(({ hold }) => hold);
  return (
    <table class="charges">
      <caption class="heard">{caption}</caption>
      <thead>
        <tr>
          {named && <th scope="col">Who</th>}
          <th scope="col">What for</th>
          <th scope="col">Due</th>
          <th scope="col" class="number">
            Charged
          </th>
          <th scope="col" class="number">
            − credited
          </th>
          <th scope="col" class="number">
            − paid
          </th>
          {held && (
            <th scope="col" class="number">
              − held
            </th>
          )}
          <th scope="col" class="number">
            = owed
          </th>
        </tr>
      </thead>
      <tbody>
        {charges.map(({ chargeId, name, description, dueOn, dueMinor, hold, ...sums }) => (
          <tr key={chargeId}>
            {named && <td class="who">{name}</td>}
            <th scope="row">{description}</th>
            <td class={dueMinor > 0 ? 'when iron' : 'when'}>
              {hold ? `held until ${day(dayOf(hold.until), today)}` : whenDue(dueOn, dueMinor, sums.owedMinor)}
            </td>
            <td class="number charged">{money(sums.grossMinor)}</td>
            <td class={sums.creditedMinor > 0 ? 'number credited' : 'number credited none'}>
              {money(sums.creditedMinor)}
            </td>
            <td class={sums.paidMinor > 0 ? 'number paid' : 'number paid none'}>{money(sums.paidMinor)}</td>
            {held && <td class={hold ? 'number held' : 'number held none'}>{money(sums.heldMinor)}</td>}
            <td class="number owed-now">{money(sums.owedMinor)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );

  function whenDue(dueOn: string | null, dueMinor: number, owedMinor: number): string {
    const on = dueOn && day(dueOn, today);
    if (dueMinor > 0 && dueMinor < owedMinor) return `${money(dueMinor)} ${on ? `since ${on}` : 'now'}, the rest later`;
    if (dueMinor > 0) return on ? `since ${on}` : 'now';
    return on ? `by ${on}` : 'no day set';
  }
}
