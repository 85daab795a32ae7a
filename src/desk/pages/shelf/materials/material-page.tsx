import '../../../ui/styles/raised.css';
import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { addDays } from '../../../../trade/calendar/calendar.js';
import type { Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import type { Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { type Column, DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';
import { LotForm } from './lot-form';
import { type Material, type MaterialRead, readMaterial } from './material-queries';

/** What is here of one material, lot by lot, and what came of it. */
export function MaterialPage() {
  const materialId = useRoute().params.materialId ?? '';
  const read = useCallback((me: Me, signal: AbortSignal) => readMaterial(materialId, me, signal), [materialId]);
  return (
    <Page
      key={materialId}
      question="A material"
      tabs={(me) => <ShelfTabs me={me} />}
      read={read}
      headed={({ material }) => material.name}
    >
      {(found, at) => <Lots {...found} {...at} />}
    </Page>
  );
}

function Lots({ material, costs, usualSupplier, me, formatter }: MaterialRead & At) {
  const [isOpen, setOpen] = useState(false);
  const [said, setSaid] = useState('');
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (said) here.current?.focus(); // the form that was sent is gone
  }, [said]);
  const worth = costs && material.onHand > 0 ? `, worth ${formatter.money(costs.worthMinor)}` : '';
  return (
    <>
      <p class="answer">
        {material.onHand > 0 ? formatQuantity(material.onHand, material.unit, formatter) : 'Nothing'} on the shelf
        {worth}.
      </p>
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={here}>
          {said}
        </p>
      )}
      {material.asksForCount && (
        <p class="amber">
          <a href="/shelf/count">Count it</a>: more was used than was recorded.
        </p>
      )}
      {isOpen ? (
        <NewLot
          {...{ material, costs, usualSupplier, formatter }}
          today={me.today}
          onSaved={(sentence) => {
            setOpen(false);
            setSaid(sentence);
          }}
          onCancel={() => setOpen(false)}
        />
      ) : (
        me.rights.includes('money:write') && (
          <p class="acts no-paper">
            <button
              type="button"
              onClick={() => {
                setSaid('');
                setOpen(true);
              }}
            >
              New lot
            </button>
            <a href={`/shelf/materials?change=${material.id}`}>Change this material</a>
            <span class="quiet">
              What you ordered is received under <a href="/shelf/orders">Orders</a>.
            </span>
          </p>
        )
      )}
      {material.lots.length > 0 && (
        <section>
          <h2>
            Lots <span>the oldest is used first</span>
          </h2>
          <DataTable
            caption="Lots"
            columns={columnsFor(material, formatter, costs !== null)}
            rows={costs?.lots ?? material.lots}
            keyOf={({ id }) => id}
          />
        </section>
      )}
    </>
  );
}

function NewLot(props: Parameters<typeof LotForm>[0]) {
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => title.current?.focus(), []); // the button that was pressed is gone
  return (
    <div class="raised">
      <h2 ref={title} tabIndex={-1}>
        New lot
      </h2>
      <LotForm {...props} />
    </div>
  );
}

type Lot = Material['lots'][number] & Partial<Pick<Schemas['CostedLot'], 'costMinor'>>;

function columnsFor({ unit, shelfLifeDays }: Material, formatter: Formatter, seesMoney: boolean): Column<Lot>[] {
  const many = (quantity: number) => formatQuantity(quantity, unit, formatter);
  return [
    { head: 'Received', cell: ({ receivedOn }) => formatter.fullDate(receivedOn) },
    { head: 'From', cell: ({ supplier }) => supplier ?? 'found' },
    ...(shelfLifeDays === null
      ? []
      : [{ head: 'Use by', cell: ({ receivedOn }: Lot) => formatter.fullDate(addDays(receivedOn, shelfLifeDays)) }]),
    { head: 'Came', figures: true, cell: ({ quantity }) => many(quantity) },
    { head: 'Left', figures: true, cell: ({ left }) => many(left) },
    ...(seesMoney
      ? [{ head: 'Cost', figures: true, cell: ({ costMinor }: Lot) => formatter.money(costMinor ?? 0) }]
      : []),
  ];
}
