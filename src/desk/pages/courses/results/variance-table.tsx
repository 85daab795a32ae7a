import type { Formatter } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';
import { amount, isKnown } from './labels';
import type { Line, Was } from './queries';

type Props = { was: Was; formatter: Formatter };

/** Line by line what was planned and what it came to; takings less the rest is what was left, on both sides. */
export function LineTable({ was: { planned, real, differenceMinor, lines, plannedFrom }, formatter }: Props) {
  const { money } = formatter;
  const columns: Column<Line>[] = [
    { head: 'What', cell: ({ label }) => label },
    {
      ...{ head: 'Planned', figures: true, total: money(planned.resultMinor) },
      cell: (line) => <Side of={line.planned} {...{ line, formatter }} />,
    },
    {
      ...{ head: 'Actual', figures: true, total: money(real.resultMinor) },
      cell: (line) => line.real && <Side of={line.real} {...{ line, formatter }} />,
    },
    {
      ...{ head: 'Better by', figures: true, total: money(differenceMinor) },
      cell: (line) => money(line.differenceMinor ?? 0),
      toneOf: (line) => (line.differenceMinor === 0 ? 'none' : undefined),
    },
    {
      ...{ head: 'How that is known', total: <small>{plannedFrom.detail}</small> },
      cell: (line) => line.real && <small>{line.real.detail}</small>,
    },
  ];
  return (
    <section>
      <DataTable
        caption="Planned against actual"
        captionShown
        columns={columns}
        rows={lines.filter(isKnown)}
        keyOf={({ key }) => key}
        total="Left when all is paid, your time too"
      />
    </section>
  );
}

/** What goes out stands with a minus, so that the column adds up as it is. */
const signed = (side: Line['side'], minor: number): number => (side === 'takings' ? minor : 0 - minor);

type SideProps = { of: Line['planned']; line: Line; formatter: Formatter };

function Side({ of, line: { side, unit }, formatter }: SideProps) {
  return (
    <>
      {formatter.money(signed(side, of.amountMinor))} <small>{amount(of, unit, formatter)}</small>
    </>
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
