import type { Schemas } from '../../../api/client';
import type { Words } from './labels';

type Props = { caption: string; rungs: readonly Schemas['PrivateRung'][]; groupOf: number; words: Words };

/** Each number of heads: what they pay, and what comes of it. */
export function Heads({ caption, rungs, groupOf, words: { money } }: Props) {
  return (
    <section>
      <table class="rungs people-rungs">
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">People</th>
            {['They pay', 'Left over', 'Your pay an hour', 'They break even at'].map((said) => (
              <th key={said} scope="col" class="number">
                {said}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rungs.map((rung) => (
            <tr key={rung.heads}>
              <th scope="row">
                {rung.heads} {rung.heads > groupOf && <small>above the group</small>}
              </th>
              <td class="number">{money(rung.chargedMinor)}</td>
              <td class={Number(rung.resultMinor) < 0 ? 'number left iron' : 'number left'}>
                {money(rung.resultMinor)}
              </td>
              <td class="number hourly">{money(rung.ownerPayPerHourMinor)}</td>
              <td class="number each">{money(rung.floorMinor)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
