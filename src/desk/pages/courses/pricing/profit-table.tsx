import { type Column, DataTable } from '../../../ui/data-table';
import { Disclosure } from '../../../ui/disclosure';
import type { Words } from './labels';
import type { Calculation } from './recalculate';

type Props = { calculation: Calculation; words: Words };

/** The ladder's figures. */
export function ProfitTable({ calculation: { asked, askedMinor }, words: { money, percent } }: Props) {
  const columns: Column<Calculation['asked']['ladder'][number]>[] = [
    {
      ...{ head: 'Students', headInCard: true },
      cell: ({ students, held }) => (
        <>
          {students} {!held && <small>does not run</small>}
        </>
      ),
    },
    { head: 'How likely', figures: true, cell: ({ probability }) => percent(probability) },
    {
      ...{ head: 'Left over', figures: true },
      cell: ({ resultMinor }) => money(resultMinor),
      toneOf: ({ resultMinor }) => (Number(resultMinor) < 0 ? 'iron' : undefined),
    },
    { head: 'Your pay an hour', figures: true, cell: ({ ownerPayPerHourMinor }) => money(ownerPayPerHourMinor) },
    {
      ...{ head: 'Break-even price', figures: true },
      cell: ({ breakEvenPriceMinor }) => breakEvenPriceMinor !== null && money(breakEvenPriceMinor),
    },
  ];
  return (
    <Disclosure late title="By number of students" note="what is left over, your pay, and the break-even price">
      <DataTable
        class="rungs"
        caption={`At ${money(askedMinor)} a place`}
        captionShown
        columns={columns}
        rows={asked.ladder}
        keyOf={({ students }) => String(students)}
      />
      <p class="quiet">
        The break-even price is what a place would have to cost, with VAT and card fees, for so many to pay for
        everything and your time.
      </p>
    </Disclosure>
  );
}
