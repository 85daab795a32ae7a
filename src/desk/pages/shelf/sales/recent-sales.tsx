import { useState } from 'preact/hooks';
import type { Formatter } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';
import { inWords, placeOf, stateOf } from './labels';
import type { Sale } from './queries';
import { TakeBack } from './return-form';

type Props = {
  sales: readonly Sale[];
  today: string;
  formatter: Formatter;
  onPay(sale: Sale): void;
  onDone(said: string): void;
};

/** The latest sales; each opens to what came back of it, and to taking back what was kept. */
export function Latest({ sales, today, formatter, onPay, onDone }: Props) {
  const [open, setOpen] = useState('');
  if (sales.length === 0) return null;
  const done = async (said: string) => {
    setOpen('');
    await onDone(said);
  };
  const columns: Column<Sale>[] = [
    { head: 'What', cell: (sale) => <What {...{ sale, formatter }} /> },
    { head: 'Who', cell: ({ personName }) => personName },
    { head: 'When', cell: ({ at }) => formatter.day(formatter.dayOf(at), today) },
    {
      ...{ head: 'Price', figures: true },
      cell: ({ grossMinor, creditedMinor }) => formatter.money(grossMinor - creditedMinor),
    },
    {
      head: 'Paid',
      cell: (sale) => stateOf(sale, formatter).text,
      toneOf: (sale) => stateOf(sale, formatter).tone,
    },
    {
      ...{ head: 'Actions', headHeard: true },
      cell: (sale) => (
        <Acts
          {...{ sale, formatter, onPay }}
          isOpen={open === sale.id}
          onOpen={(next) => setOpen(next ? sale.id : '')}
        />
      ),
    },
  ];
  return (
    <section>
      <h2>The latest sales</h2>
      <DataTable
        class="sales"
        caption="What was sold, the latest first"
        columns={columns}
        rows={sales}
        keyOf={({ id }) => id}
        detailOf={(sale) =>
          open === sale.id && <TakeBack {...{ sale, formatter }} onDone={done} onLeave={() => setOpen('')} />
        }
      />
    </section>
  );
}

type SaleProps = Pick<Props, 'formatter'> & { sale: Sale };

const called = ({ quantity, unit, materialName }: Sale, formatter: Formatter) =>
  `${inWords(quantity, unit, formatter)} of ${materialName}`;

function What({ sale, formatter }: SaleProps) {
  const { unit, quantity, keptQuantity, note } = sale;
  return (
    <span id={placeOf(sale)}>
      {called(sale, formatter)}
      {keptQuantity < quantity && keptQuantity > 0 && (
        <small> {inWords(quantity - keptQuantity, unit, formatter)} of it came back</small>
      )}
      {note && <small> {note}</small>}
    </span>
  );
}

type ActsProps = SaleProps & Pick<Props, 'onPay'> & { isOpen: boolean; onOpen(next: boolean): void };

function Acts({ sale, formatter, isOpen, onOpen, onPay }: ActsProps) {
  const { personName, owedMinor, keptQuantity } = sale;
  const what = called(sale, formatter);
  return (
    <span class="acts no-paper">
      {owedMinor > 0 && (
        <button type="button" class="quiet" onClick={() => onPay(sale)}>
          Take a payment
          <span class="heard">
            {' '}
            of {personName} for {what}
          </span>
        </button>
      )}
      {keptQuantity > 0 && (
        <button type="button" class="quiet" aria-expanded={isOpen} onClick={() => onOpen(!isOpen)}>
          Take back
          <span class="heard">
            {' '}
            from {personName}: {what}
          </span>
        </button>
      )}
      <CreditNotes sale={sale} />
    </span>
  );
}

function CreditNotes({ sale: { takingsBack } }: { sale: Sale }) {
  return (
    <>
      {takingsBack.map(
        ({ id, creditNoteDocumentId }) =>
          creditNoteDocumentId && (
            <a key={id} href={`/api/documents/${creditNoteDocumentId}/pdf`} target="_blank" rel="noopener">
              Credit note
            </a>
          ),
      )}
    </>
  );
}
