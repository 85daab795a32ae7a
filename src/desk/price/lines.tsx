import { Decimal } from '../../trade/money.js';
import type { Reckoning } from './reckoning';
import { type moneyIn, quantity, unitOf } from './words';

type Money = ReturnType<typeof moneyIn>;
type Line = {
  key: string;
  label: string;
  quantity: string;
  unit: string;
  rateMinor: string;
  amountMinor: string;
  from: string;
  assumed: boolean;
};

/** The cost lines, in tables that add up before one's eyes: what each student costs, and what the course costs however many come. */
export function Lines({ reckoning, money }: { reckoning: Reckoning; money: Money }) {
  const { result, inputs } = reckoning;
  const of = (basis: string) =>
    result.lines
      .filter((line) => line.basis === basis)
      .map((line) => ({ ...line, from: line.source.detail, assumed: line.source.kind === 'assumption' }));
  const hours = (key: string, count: string): Line => ({
    ...{ key, label: 'Your time', quantity: count, unit: 'h', rateMinor: String(inputs.wagePerHourMinor) },
    amountMinor: new Decimal(count).times(inputs.wagePerHourMinor).toFixed(),
    ...{ from: 'What your hour is worth, from the settings; the hours are the plan’s.', assumed: false },
  });
  const perCourse = [...of('per-course'), hours('hours', inputs.ownerHours)];
  return (
    <>
      <LineTable
        caption="For each student"
        lines={[...of('per-student'), hours('hours-each', inputs.ownerHoursPerStudent)]}
        money={money}
      />
      <LineTable caption="For the course, however many come" lines={perCourse} money={money} />
      <p>
        {inputs.secondTutor &&
          `Above ${inputs.secondTutor.above} students a second tutor costs ${money(inputs.secondTutor.feeMinor)}. `}
        Of each price {inputs.cardPercent} % and {money(inputs.cardFixedMinor)} a payment go to the card company
        {inputs.vatPercent === '0' ? '; it holds no VAT' : `, and it holds ${inputs.vatPercent} % VAT`}. If too few
        book, {money(result.sunkIfCancelledMinor)} is lost.
      </p>
    </>
  );
}

function LineTable({ caption, lines, money }: { caption: string; lines: Line[]; money: Money }) {
  const sum = lines.reduce((total, line) => total.plus(line.amountMinor), new Decimal(0));
  return (
    <section>
      <table class="lines">
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col" class="number">
              Quantity × rate
            </th>
            <th scope="col" class="number">
              Amount
            </th>
            <th scope="col">Where the rate comes from</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.key}>
              <th scope="row">{line.label}</th>
              <td class="number reckoning">
                {quantity(line.quantity)} {unitOf(line.unit)} × {money(line.rateMinor)}
              </td>
              <td class="number amount">{money(line.amountMinor)}</td>
              <td class="from">
                <small class="source">
                  {line.assumed && <b class="amber">Assumption. </b>}
                  {line.from}
                </small>
              </td>
            </tr>
          ))}
          <tr class="sum">
            <th scope="row">Together</th>
            <td class="reckoning" />
            <td class="number amount">{money(sum.toFixed())}</td>
            <td class="from" />
          </tr>
        </tbody>
      </table>
    </section>
  );
}
