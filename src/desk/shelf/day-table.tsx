import { listed, type Tell } from '../tell';
import { amount, chance, type Item } from './words';

type Props = { item: Item; tell: Tell };

/** The days that a drawing is made of, opened on demand. */
export function DayTable({ item: { name, unit, needs, rows }, tell }: Props) {
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
            <th scope="col">Who draws</th>
            <th scope="col" class="number">
              Left if only the booked come
            </th>
            <th scope="col" class="number">
              Expected
            </th>
            <th scope="col" class="number">
              At worst, one in ten
            </th>
            <th scope="col" class="number">
              Chance of having run short
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
