import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { count, type Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { ErrorMessage } from '../../../forms/error-message';
import { type Column, DataTable } from '../../../ui/data-table';
import { placeOfSupplier } from './labels';
import type { Suggested } from './queries';

type Props = { suggested: Suggested; today: string; formatter: Formatter; onWritten(said: string): void };

/** What to order of one supplier: the lines of the order as it would be, which becomes one at a press. */
export function ToOrder({ suggested, today, formatter, onWritten }: Props) {
  const { supplierId, supplier, lines, toFreeCarriage, orderBy } = suggested;
  const deed = useMutation({ thenRead: true });
  const write = async () => {
    const body = {
      supplierId,
      lines: lines.flatMap(({ materialId, packs }) =>
        packs.map(({ packQuantity, packs }) => ({ materialId, packQuantity, packs })),
      ),
      note: null,
    };
    if (await deed.run(body, (headers) => api.POST('/api/orders', { body, headers })))
      onWritten(`The order from ${supplier} is written. Mark as ordered when you send it.`);
  };
  return (
    <section id={placeOfSupplier(suggested)} class="order wanting">
      <h2>
        {supplier}{' '}
        <span class={orderBy < today ? 'iron' : 'amber'}>
          {orderBy < today ? 'at once' : `by ${formatter.longDay(orderBy)}`}
        </span>
      </h2>
      <Lines {...{ suggested, formatter }} />
      {toFreeCarriage && <p>{toFreeCarriage.advice}</p>}
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <button type="button" onClick={write} aria-disabled={deed.busy}>
        Draft order
      </button>
    </section>
  );
}

type Line = { key: string; name: string; need: string; packs: string; amountMinor: number };

/** What to order, in which packs, at what price, with its carriage. */
function Lines({ suggested, formatter }: Pick<Props, 'suggested' | 'formatter'>) {
  const { supplier, goodsMinor, carriageMinor, totalMinor } = suggested;
  const lines = suggested.lines.map(({ materialId, name, unit, needQuantity, packs, atMost }): Line => {
    const quantity = (units: number) => formatQuantity(units, unit, formatter);
    return {
      ...{ key: materialId, name, need: `${atMost ? 'at most ' : ''}${quantity(needQuantity)}` },
      packs: packs.map((pack) => `${count(pack.packs, 'pack')} of ${quantity(pack.packQuantity)}`).join(', '),
      amountMinor: packs.reduce((sum, { amountMinor }) => sum + amountMinor, 0),
    };
  });
  const carriage: Line = { key: 'carriage', name: 'Carriage', need: '', packs: '', amountMinor: carriageMinor };
  const columns: Column<Line>[] = [
    { head: 'Material', cell: ({ name }) => name },
    { head: 'Needed', cell: ({ need }) => need },
    { head: 'Packs', cell: ({ packs }) => packs },
    {
      ...{ head: 'Price', figures: true, total: formatter.money(totalMinor) },
      cell: ({ amountMinor }) => formatter.money(amountMinor),
    },
  ];
  return (
    <DataTable
      caption={`What to order from ${supplier}`}
      columns={columns}
      rows={[...lines, carriage]}
      keyOf={({ key }) => key}
      total={`Total (goods ${formatter.money(goodsMinor)})`}
    />
  );
}
