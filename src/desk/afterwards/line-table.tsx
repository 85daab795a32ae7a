import type { Tell } from '../tell';
import type { Line, Was } from './read';
import { amount, isKnown } from './words';

type Props = { was: Was; tell: Tell };

/** Line by line what was planned and what it came to; takings less the rest is what was left, on both sides. */
export function LineTable({ was, tell }: Props) {
  const { planned, real, differenceMinor, lines, plannedFrom } = was;
  return (
    <section>
      <table class="against">
        <caption>Planned against real</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col" class="number">
              Planned
            </th>
            <th scope="col" class="number">
              Real
            </th>
            <th scope="col" class="number">
              Better by
            </th>
            <th scope="col">How that is known</th>
          </tr>
        </thead>
        <tbody>
          {lines.filter(isKnown).map((line) => (
            <Row key={line.key} {...{ line, tell }} />
          ))}
          <tr class="sum">
            <th scope="row">Left when all is paid, your time too</th>
            <td class="number planned">{tell.money(planned.resultMinor)}</td>
            <td class="number real">{tell.money(real.resultMinor)}</td>
            <td class="number better">{tell.money(differenceMinor)}</td>
            <td class="from">
              <small>{plannedFrom.detail}</small>
            </td>
          </tr>
        </tbody>
      </table>
    </section>
  );
}

/** What goes out stands with a minus, so that the column adds up as it is. */
const signed = (side: Line['side'], minor: number): number => (side === 'takings' ? minor : 0 - minor);

function Row({ line: { label, side, unit, planned, real, differenceMinor }, tell }: { line: Line; tell: Tell }) {
  return (
    <tr>
      <th scope="row">{label}</th>
      <td class="number planned">
        {tell.money(signed(side, planned.amountMinor))} <small>{amount(planned, unit, tell)}</small>
      </td>
      <td class="number real">
        {real && (
          <>
            {tell.money(signed(side, real.amountMinor))} <small>{amount(real, unit, tell)}</small>
          </>
        )}
      </td>
      <td class={differenceMinor === 0 ? 'number better none' : 'number better'}>{tell.money(differenceMinor ?? 0)}</td>
      <td class="from">
        <small>{real?.detail}</small>
      </td>
    </tr>
  );
}

/** What neither sum holds, and how to know it. */
export function Unknown({ was, tell }: Props) {
  const unknown = was.lines.filter((line) => !isKnown(line));
  if (unknown.length === 0) return null;
  return (
    <section>
      <h2>
        Not known <span>so that neither sum holds it</span>
      </h2>
      <ul class="unknown">
        {unknown.map(({ key, label, planned, howToKnow }) => (
          <li key={key}>
            <b>{label}</b>, {tell.money(planned.amountMinor)} planned. <span class="quiet">{howToKnow}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
