import { Disclosure } from '../../../ui/disclosure';
import type { Words } from './labels';
import type { Calculation } from './recalculate';

type Props = { calculation: Calculation; words: Words };

/** The ladder's figures. */
export function ProfitTable({ calculation: { asked, askedMinor }, words: { money, percent } }: Props) {
  return (
    <Disclosure title="By number of students" note="what is left over, your pay, and the break-even price">
      <table class="rungs">
        <caption>At {money(askedMinor)} a place</caption>
        <thead>
          <tr>
            <th scope="col">Students</th>
            <th scope="col" class="number">
              How likely
            </th>
            <th scope="col" class="number">
              Left over
            </th>
            <th scope="col" class="number">
              Your pay an hour
            </th>
            <th scope="col" class="number">
              Break-even price
            </th>
          </tr>
        </thead>
        <tbody>
          {asked.ladder.map((rung) => (
            <tr key={rung.students}>
              <th scope="row">
                {rung.students} {!rung.held && <small>does not run</small>}
              </th>
              <td class="number likely">{percent(rung.probability)}</td>
              <td class={Number(rung.resultMinor) < 0 ? 'number left iron' : 'number left'}>
                {money(rung.resultMinor)}
              </td>
              <td class="number hourly">{money(rung.ownerPayPerHourMinor)}</td>
              <td class="number each">{rung.breakEvenPriceMinor !== null && money(rung.breakEvenPriceMinor)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="quiet">
        The break-even price is what a place would have to cost, with VAT and card fees, for so many to pay for
        everything and your time.
      </p>
    </Disclosure>
  );
}
