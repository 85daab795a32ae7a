import { useCallback, useState } from 'preact/hooks';
import { api, Refused, type Schemas } from '../../../api/client';
import { useQuery } from '../../../api/query';
import type { Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { type Column, DataTable } from '../../../ui/data-table';
import { hoursOf, litresOf, type MembershipInFull, monthOf } from '../membership-labels';

type Use = Schemas['MembershipUse'];
type Total = Use['totals'][number];
type Line = Use['lines'][number];
type Props = { membership: MembershipInFull; formatter: Formatter; today: string };

const MONTHS_SHOWN = 12;

/** What was used in a month against what is included; each line shows what it would have cost, and what was charged beyond. */
export function UseSection({ membership, formatter, today }: Props) {
  const months = monthsBack(today);
  const [month, setMonth] = useState(months[0] ?? today);
  const { id: membershipId } = membership;
  const read = useCallback(
    async (signal: AbortSignal) => {
      const params = { path: { membershipId }, query: { month } };
      const { data } = await api.GET('/api/memberships/{membershipId}/use', { params, signal });
      if (!data) throw new Refused('unknown', 'What was used could not be loaded. Load the page again.');
      return data;
    },
    [membershipId, month],
  );
  const { data, error } = useQuery({ key: ['membership-use', membershipId, month], read, keep: true });
  return (
    <section aria-busy={!data && !error}>
      <h2>Used of what is included</h2>
      <div class="pairs no-paper">
        <Field
          label="Month"
          choices={months.map((each) => [each, monthOf(each, formatter)] as const)}
          value={month}
          onChange={setMonth}
        />
      </div>
      {error && <ErrorMessage>{error.message}</ErrorMessage>}
      {data && <Used use={data} formatter={formatter} />}
    </section>
  );
}

function Used({ use: { totals, lines, month }, formatter }: { use: Use; formatter: Formatter }) {
  if (totals.length === 0) return <p class="quiet">It includes a shelf at most, and nothing was used.</p>;
  return (
    <>
      <DataTable
        caption={`Used in ${monthOf(month, formatter)}`}
        columns={totalColumns(formatter)}
        rows={totals}
        keyOf={({ what }) => what}
      />
      {lines.length === 0 ? (
        <p class="quiet">Nothing was used in this month.</p>
      ) : (
        <details>
          <summary>How that adds up</summary>
          <DataTable
            caption="Each visit, firing and sale"
            columns={lineColumns(formatter)}
            rows={lines}
            keyOf={({ on, called, what, used }) => `${on} ${what} ${called} ${used}`}
          />
        </details>
      )}
    </>
  );
}

const WHAT: Record<Total['what'], string> = { bench: 'Bench', firing: 'Kiln', clay: 'Clay' };

function amountOf(what: Total['what'], amount: number, formatter: Formatter): string {
  if (what === 'bench') return hoursOf(amount, formatter);
  return what === 'firing' ? litresOf(amount, formatter) : formatQuantity(amount, 'g', formatter);
}

function totalColumns(formatter: Formatter): Column<Total>[] {
  const column = (head: string, of: (total: Total) => number): Column<Total> => ({
    ...{ head, figures: true, cell: (total) => amountOf(total.what, of(total), formatter) },
  });
  return [
    { head: 'What', cell: ({ what }) => WHAT[what] },
    column('Included', ({ includes }) => includes),
    column('Used of it', ({ used }) => used),
    column('Left', ({ left }) => left),
    column('Beyond it', ({ beyond }) => beyond),
    { head: 'Charged for that', figures: true, cell: ({ beyondMinor }) => formatter.money(beyondMinor) },
  ];
}

function lineColumns(formatter: Formatter): Column<Line>[] {
  const { date, money } = formatter;
  return [
    { head: 'On', cell: ({ on }) => date(on) },
    { head: 'What', cell: ({ called }) => called },
    { head: 'Used', figures: true, cell: ({ what, used }) => amountOf(what, used, formatter) },
    { head: 'Included', figures: true, cell: ({ what, included }) => amountOf(what, included, formatter) },
    { head: 'Worth', figures: true, cell: ({ includedMinor }) => money(includedMinor) },
    { head: 'Charged', figures: true, cell: ({ chargedMinor }) => money(chargedMinor) },
  ];
}

/** This month and those before it, by their first days. */
function monthsBack(today: string): string[] {
  const [year = 0, month = 0] = today.split('-').map(Number);
  return Array.from({ length: MONTHS_SHOWN }, (_, i) =>
    new Date(Date.UTC(year, month - 1 - i, 1)).toISOString().slice(0, 10),
  );
}
