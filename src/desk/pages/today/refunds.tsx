import { PayRefund } from '../../actions/pay-refund';
import type { Formatter } from '../../format/formatter';
import type { Today } from './labels';

type Props = { today: Today; formatter: Formatter };

/** To whom a refund is due since a place that they gave up is filled again. A tutor sees none of it. */
export function Refunds({ today: { refundsDue, day }, formatter }: Props) {
  if (!refundsDue || refundsDue.length === 0) return null;
  return (
    <table class="brief debts" id="refunds">
      <caption>Refunds due</caption>
      <thead>
        <tr>
          <th scope="col">Who</th>
          <th scope="col">What for</th>
          <th scope="col">Filled again</th>
          <th scope="col" class="number">
            Refund
          </th>
          <td />
        </tr>
      </thead>
      <tbody>
        {refundsDue.map(({ bookingId, personName, what, since, amountMinor }) => (
          <tr key={bookingId}>
            <th scope="row">{personName}</th>
            <td class="what">{what}</td>
            <td>{formatter.day(since, day)}</td>
            <td class="number due iron">{formatter.money(amountMinor)}</td>
            <td class="what">
              <PayRefund {...{ bookingId, personName, formatter }} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
