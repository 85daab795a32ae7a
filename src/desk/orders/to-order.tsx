import { api } from '../client';
import { useDeed } from '../deed';
import { Fault } from '../entry/field';
import { amount } from '../shelf/words';
import { count, type Tell } from '../tell';
import type { Suggested } from './read';
import { placeOfSupplier } from './words';

type Props = { suggested: Suggested; today: string; tell: Tell; onWritten(said: string): Promise<void> };

/** What to order of one supplier: the lines of the order as it would be, which becomes one at a press. */
export function ToOrder({ suggested, today, tell, onWritten }: Props) {
  const { supplierId, supplier, lines, toFreeCarriage, orderBy } = suggested;
  const deed = useDeed();
  const write = async () => {
    const body = {
      supplierId,
      lines: lines.flatMap(({ materialId, packs }) =>
        packs.map(({ packQuantity, packs }) => ({ materialId, packQuantity, packs })),
      ),
      note: null,
    };
    if (await deed.run(body, (headers) => api.POST('/api/orders', { body, headers })))
      await onWritten(`The order from ${supplier} is written. Place it when you send it.`);
  };
  return (
    <section id={placeOfSupplier(suggested)} class="order wanting">
      <h2>
        {supplier}{' '}
        <span class={orderBy < today ? 'iron' : 'amber'}>
          {orderBy < today ? 'at once' : `by ${tell.longDay(orderBy)}`}
        </span>
      </h2>
      <Lines {...{ suggested, tell }} />
      {toFreeCarriage && <p>{toFreeCarriage.advice}</p>}
      {deed.because && <Fault>{deed.because}</Fault>}
      <button type="button" onClick={write} aria-disabled={deed.busy}>
        Write this order
      </button>
    </section>
  );
}

/** What to order, in which packs, at what price, with its carriage. */
function Lines({ suggested, tell }: Pick<Props, 'suggested' | 'tell'>) {
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
              {amount(needQuantity, unit, tell)}
            </td>
            <td>
              {packs
                .map((pack) => `${count(pack.packs, 'pack')} of ${amount(pack.packQuantity, unit, tell)}`)
                .join(', ')}
            </td>
            <td class="number">{tell.money(packs.reduce((sum, { amountMinor }) => sum + amountMinor, 0))}</td>
          </tr>
        ))}
        <tr>
          <th scope="row" colSpan={3}>
            Carriage
          </th>
          <td class="number">{tell.money(carriageMinor)}</td>
        </tr>
        <tr class="sum">
          <th scope="row" colSpan={3}>
            Total (goods {tell.money(goodsMinor)})
          </th>
          <td class="number">{tell.money(totalMinor)}</td>
        </tr>
      </tbody>
    </table>
  );
}
