import { type Formatter, listed } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { chance, type Item } from './labels';

type Props = { item: Item; formatter: Formatter };

/** The days that a drawing is made of, opened on demand. */
export function DayTable({ item: { name, unit, needs, rows, atMost }, formatter }: Props) {
  const titles = new Map(needs.map(({ courseId, title }) => [courseId, title]));
  const left = (units: number) => (
    <span class={units < 0 ? 'iron' : undefined}>{formatQuantity(units, unit, formatter)}</span>
  );
  return (
    <details>
      <summary>Day by day</summary>
      <table class="days">
        <caption class="heard">{name}, day by day: what is left at its end</caption>
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col">Used by</th>
            <th scope="col" class="number">
              Left, bookings only
            </th>
            <th scope="col" class="number">
              Expected
            </th>
            <th scope="col" class="number">
              Worst 1 in 10
            </th>
            <th scope="col" class="number">
              {atMost ? 'Chance of having run out, at most' : 'Chance of having run out'}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.day}>
              <th scope="row">{formatter.date(row.day)}</th>
              <td class="who">{listed([...new Set(row.courseIds.map((id) => titles.get(id) ?? ''))])}</td>
              <td class="number booked">{left(row.leftIfBooked)}</td>
              <td class="number expected">{left(row.leftExpected)}</td>
              <td class="number worst">{left(row.leftAtWorst)}</td>
              <td class="number chance">{chance(row.shortChance, formatter)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
