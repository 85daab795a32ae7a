import type { Formatter } from '../../../format/formatter';
import { amount, isKnown } from './labels';
import type { Line, Was } from './queries';

type Props = { was: Was; formatter: Formatter };

/** Line by line what was planned and what it came to; takings less the rest is what was left, on both sides. */
export function LineTable({ was, formatter }: Props) {
  const { planned, real, differenceMinor, lines, plannedFrom } = was;
  return (
    <section>
      <table class="against">
        <caption>Planned against actual</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col" class="number">
              Planned
            </th>
            <th scope="col" class="number">
              Actual
            </th>
            <th scope="col" class="number">
              Better by
            </th>
            <th scope="col">How that is known</th>
          </tr>
        </thead>
        <tbody>
          {lines.filter(isKnown).map((line) => (
            <Row key={line.key} {...{ line, formatter }} />
          ))}
          <tr class="sum">
            <th scope="row">Left when all is paid, your time too</th>
            <td class="number planned">{formatter.money(planned.resultMinor)}</td>
            <td class="number real">{formatter.money(real.resultMinor)}</td>
            <td class="number better">{formatter.money(differenceMinor)}</td>
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

function Row({
  line: { label, side, unit, planned, real, differenceMinor },
  formatter,
}: {
  line: Line;
  formatter: Formatter;
}) {
  return (
    <tr>
      <th scope="row">{label}</th>
      <td class="number planned">
        {formatter.money(signed(side, planned.amountMinor))} <small>{amount(planned, unit, formatter)}</small>
      </td>
      <td class="number real">
        {real && (
          <>
            {formatter.money(signed(side, real.amountMinor))} <small>{amount(real, unit, formatter)}</small>
          </>
        )}
      </td>
      <td class={differenceMinor === 0 ? 'number better none' : 'number better'}>
        {formatter.money(differenceMinor ?? 0)}
      </td>
      <td class="from">
        <small>{real?.detail}</small>
      </td>
    </tr>
  );
}

/** What neither sum holds, and how to know it. */
export function Unknown({ was, formatter }: Props) {
  const unknown = was.lines.filter((line) => !isKnown(line));
  if (unknown.length === 0) return null;
  return (
    <section>
      <h2>
        No actual figure <span>counted in neither total</span>
      </h2>
      <ul class="unknown">
        {unknown.map(({ key, label, planned, howToKnow }) => (
          <li key={key}>
            <b>{label}</b>, {formatter.money(planned.amountMinor)} planned. <span class="quiet">{howToKnow}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
