import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { count, type Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { ErrorMessage } from '../../../forms/error-message';
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

/** What to order, in which packs, at what price, with its carriage. */
function Lines({ suggested, formatter }: Pick<Props, 'suggested' | 'formatter'>) {
  const { supplier, lines, goodsMinor, carriageMinor, totalMinor } = suggested;
  return (
    <table>
      <caption class="heard">What to order from {supplier}</caption>
      <thead>
        <tr>
          <th scope="col">Material</th>
          <th scope="col">Needed</th>
          <th scope="col">Packs</th>
          <th scope="col" class="number">
            Price
          </th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ materialId, name, unit, needQuantity, packs, atMost }) => (
          <tr key={materialId}>
            <th scope="row">{name}</th>
            <td>
              {atMost && 'at most '}
              {formatQuantity(needQuantity, unit, formatter)}
            </td>
            <td>
              {packs
                .map((pack) => `${count(pack.packs, 'pack')} of ${formatQuantity(pack.packQuantity, unit, formatter)}`)
                .join(', ')}
            </td>
            <td class="number">{formatter.money(packs.reduce((sum, { amountMinor }) => sum + amountMinor, 0))}</td>
          </tr>
        ))}
        <tr>
          <th scope="row" colSpan={3}>
            Carriage
          </th>
          <td class="number">{formatter.money(carriageMinor)}</td>
        </tr>
        <tr class="sum">
          <th scope="row" colSpan={3}>
            Total (goods {formatter.money(goodsMinor)})
          </th>
          <td class="number">{formatter.money(totalMinor)}</td>
        </tr>
      </tbody>
    </table>
  );
}
