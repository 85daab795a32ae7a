import type { Formatter } from '../../../format/formatter';
import { exactly, type Material, worthOfDifference } from './labels';
import type { Told } from './queries';
import type { Done } from './unsaved-counts';

type Props = { materials: Material[]; done: Record<string, Done>; values: Told['values']; formatter: Formatter };

/** What today's count found to be otherwise than the books said, with its worth for those who may see money. */
export function Differences({ materials, done, values, formatter }: Props) {
  const lines = materials.flatMap((material) => {
    const count = done[material.id];
    if (!count || count.counted === count.inBooks) return [];
    const difference = count.counted - count.inBooks;
    return [{ material, count, difference, worth: worthOfDifference(difference, values?.get(material.id)) }];
  });
  if (lines.length === 0) return null;
  const sum = lines.reduce((all, { worth }) => all + (worth ?? 0), 0);
  return (
    <table class="differences no-paper">
      <caption>Differences from recorded stock</caption>
      <thead>
        <tr>
          <th scope="col">Material</th>
          <th scope="col">Why</th>
          <th scope="col" class="number">
            Difference
          </th>
          {values && (
            <th scope="col" class="number">
              Worth
            </th>
          )}
        </tr>
      </thead>
      <tbody>
        {lines.map(({ material, count, difference, worth }) => (
          <tr key={material.id}>
            <th scope="row">{material.name}</th>
            <td>{count.explanation}</td>
            <td class="number">{signed(difference, exactly(Math.abs(difference), material.unit, formatter))}</td>
            {values && (
              <td class="number">{worth === null ? 'not known' : signed(worth, formatter.money(Math.abs(worth)))}</td>
            )}
          </tr>
        ))}
        {values && (
          <tr class="sum">
            <th scope="row">Total, by what a pack cost lately</th>
            <td />
            <td />
            <td class="number">{signed(sum, formatter.money(Math.abs(sum)))}</td>
          </tr>
        )}
      </tbody>
    </table>
  );
}

const signed = (number: number, text: string) => (number < 0 ? `−${text}` : number > 0 ? `+${text}` : text);
