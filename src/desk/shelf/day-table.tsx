import { listed, type Tell } from '../tell';
import { amount, chance, type Item } from './words';

type Props = { item: Item; tell: Tell };

/** The days that a drawing is made of, opened on demand. */
export function DayTable({ item: { name, unit, needs, rows, atMost }, tell }: Props) {
  const titles = new Map(needs.map(({ courseId, title }) => [courseId, title]));
  const left = (units: number) => <span class={units < 0 ? 'iron' : undefined}>{amount(units, unit, tell)}</span>;
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
              <th scope="row">{tell.date(row.day)}</th>
              <td class="who">{listed([...new Set(row.courseIds.map((id) => titles.get(id) ?? ''))])}</td>
              <td class="number booked">{left(row.leftIfBooked)}</td>
              <td class="number expected">{left(row.leftExpected)}</td>
              <td class="number worst">{left(row.leftAtWorst)}</td>
              <td class="number chance">{chance(row.shortChance, tell)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
