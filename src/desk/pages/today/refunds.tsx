import { PayRefund } from '../../actions/pay-refund';
import type { Formatter } from '../../format/formatter';
import { type Column, DataTable } from '../../ui/data-table';
import type { Today } from './labels';

type Props = { today: Today; formatter: Formatter };

/** To whom a refund is due since a place that they gave up is filled again. A tutor sees none of it. */
export function Refunds({ today: { refundsDue, day }, formatter }: Props) {
  if (!refundsDue || refundsDue.length === 0) return null;
  const columns: Column<(typeof refundsDue)[number]>[] = [
    { head: 'Who', cell: ({ personName }) => personName },
    { head: 'What for', cell: ({ what }) => what },
    { head: 'Filled again', cell: ({ since }) => formatter.day(since, day) },
    {
      ...{ head: 'Refund', figures: true },
      cell: ({ amountMinor }) => formatter.money(amountMinor),
      toneOf: () => 'iron',
    },
    {
      ...{ head: 'Actions', headHeard: true },
      cell: ({ bookingId, personName }) => <PayRefund {...{ bookingId, personName, formatter }} />,
    },
  ];
  return (
    <DataTable
      id="refunds"
      caption="Refunds due"
      captionShown
      columns={columns}
      rows={refundsDue}
      keyOf={({ bookingId }) => bookingId}
    />
  );
}
