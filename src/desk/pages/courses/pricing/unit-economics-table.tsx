import { type Decimal, roundKeepingTotal } from '../../../../trade/money/money.js';
import { type Column, DataTable } from '../../../ui/data-table';
import { Disclosure } from '../../../ui/disclosure';
import { students, type Words } from './labels';
import type { Calculation } from './recalculate';
import { courseCost, placeOf } from './unit-economics';

type Props = { calculation: Calculation; words: Words };

/** Where the price of a place, down to what it leaves towards the cost of the course. */
export function UnitEconomics({ calculation, words: { money, moneyInText } }: Props) {
  const { inputs, result, askedMinor } = calculation;
  const place = placeOf(inputs, askedMinor, result.perStudentMinor);
  const payments = inputs.payments === 1 ? 'one payment' : `${inputs.payments} payments`;
  const vat = inputs.vatPercent === '0' ? 'VAT: none' : `VAT, ${inputs.vatPercent}%`;
  const rows: [string, Decimal][] = [
    ['A place', place.price],
    ...(inputs.sold ? [['Less what is paid at a reduced price, on average', place.reduced] as [string, Decimal]] : []),
    [inputs.parts ? 'VAT' : vat, place.vat],
    [`Card fees: ${inputs.cardPercent}%, and ${money(inputs.cardFixedMinor)} for each of ${payments}`, place.card],
    ['What each student costs, from above', place.student],
  ];
  const parts = roundKeepingTotal(rows.map(([, part]) => part));
  const columns: Column<{ label: string; partMinor: number }>[] = [
    { head: 'What', cell: ({ label }) => label },
    {
      ...{ head: 'Amount', figures: true, total: money(parts.totalMinor) },
      cell: ({ partMinor }) => money(partMinor),
    },
  ];
  return (
    <Disclosure
      late
      title={`Where ${moneyInText(askedMinor)} goes`}
      note="VAT, card fees, the student’s costs, and what is left for the course"
    >
      <DataTable
        class="place"
        caption={`Where ${moneyInText(askedMinor)} goes`}
        columns={columns}
        rows={rows.map(([label], i) => ({ label, partMinor: parts.partsMinor[i] ?? 0 }))}
        keyOf={({ label }) => label}
        total="Left to cover the course"
        fitsPhone
      />
      <p class="quiet">
        {inputs.paymentsSource && `Payments: ${inputs.paymentsSource.detail} `}
        {inputs.parts &&
          `${inputs.parts.map(({ label }) => label).join(', ')}: with a VAT of its own, in the price and on each receipt.`}
      </p>
      <Carrying calculation={calculation} words={{ money }} />
    </Disclosure>
  );
}

/** How many places it takes to pay for the course, in figures. */
function Carrying({ calculation, words: { money } }: { calculation: Calculation; words: Pick<Words, 'money'> }) {
  const { inputs, result, asked, askedMinor } = calculation;
  const count = asked.breakEvenStudents;
  const { secondTutor } = inputs;
  const { towards } = placeOf(inputs, askedMinor, result.perStudentMinor);
  return (
    <p>
      {count !== null &&
        `${students(count)} ${count === 1 ? 'leaves' : 'leave'} ${money(towards.times(count).toFixed())} towards the ` +
          `${money(courseCost(inputs, result.fixedMinor, count).toFixed())} that the course costs, your time included. `}
      {secondTutor && `With more than ${secondTutor.above} a second tutor costs ${money(secondTutor.feeMinor)} more. `}
      Amounts are rounded so that each column adds up.
    </p>
  );
}
