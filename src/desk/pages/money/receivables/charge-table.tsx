import type { Charge } from '../../../actions/payment/charge-totals';
import type { Formatter } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';

type Line = Charge & { name?: string };
type Props = { charges: readonly Line[]; caption: string; today: string; formatter: Formatter };

/** The lines that a sum was made of: charged, less what was credited and paid, is owed. */
export function ChargeTable({ charges, caption, today, formatter }: Props) {
  const { money, day, dayOf } = formatter;
  const isNamed = charges.some(({ name }) => name);
  const sum = (head: string, of: (charge: Line) => number): Column<Line> => ({
    ...{ head, figures: true },
    cell: (charge) => money(of(charge)),
  });
  const less = (head: string, of: (charge: Line) => number): Column<Line> => ({
    ...sum(head, of),
    toneOf: (charge) => (of(charge) > 0 ? undefined : 'none'),
  });
  const columns: Column<Line>[] = [
    { head: 'What for', cell: ({ description }) => description },
    ...(isNamed ? [{ head: 'Who', cell: ({ name }: Line) => name }] : []),
    {
      head: 'Due',
      cell: (charge) =>
        charge.hold ? `held until ${day(dayOf(charge.hold.until), today)}` : dueInWords(charge, today, formatter),
      toneOf: ({ dueMinor }) => (dueMinor > 0 ? 'iron' : undefined),
    },
    sum('Charged', ({ grossMinor }) => grossMinor),
    less('−\u00a0credited', ({ creditedMinor }) => creditedMinor),
    less('−\u00a0paid', ({ paidMinor }) => paidMinor),
    ...(charges.some(({ hold }) => hold) ? [less('−\u00a0held', ({ hold, heldMinor }) => (hold ? heldMinor : 0))] : []),
    sum('=\u00a0owed', ({ owedMinor }) => owedMinor),
  ];
  return <DataTable {...{ caption, columns }} rows={charges} keyOf={({ chargeId }) => chargeId} />;
}

function dueInWords({ dueOn, dueMinor, owedMinor }: Charge, today: string, { money, day }: Formatter): string {
  const on = dueOn && day(dueOn, today);
  if (dueMinor > 0 && dueMinor < owedMinor) return `${money(dueMinor)} ${on ? `since ${on}` : 'now'}, the rest later`;
  if (dueMinor > 0) return on ? `since ${on}` : 'now';
  return on ? `by ${on}` : 'no day set';
}
