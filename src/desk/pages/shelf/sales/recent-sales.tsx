import { useState } from 'preact/hooks';
import type { Formatter } from '../../../format/formatter';
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
  return (
    <section>
      <h2>The latest sales</h2>
      <table class="sales">
        <caption class="heard">What was sold, the latest first</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Who</th>
            <th scope="col">When</th>
            <th scope="col" class="number">
              Price
            </th>
            <th scope="col">Paid</th>
            <th scope="col" class="act">
              <span class="heard">Actions</span>
            </th>
          </tr>
        </thead>
        {sales.map((sale) => (
          <Row
            key={sale.id}
            {...{ sale, today, formatter, onPay }}
            isOpen={open === sale.id}
            onOpen={(next) => setOpen(next ? sale.id : '')}
            onDone={async (said) => {
              setOpen('');
              await onDone(said);
            }}
          />
        ))}
      </table>
    </section>
  );
}

type RowProps = Omit<Props, 'sales'> & { sale: Sale; isOpen: boolean; onOpen(next: boolean): void };

function Row({ sale, today, formatter, isOpen, onOpen, onPay, onDone }: RowProps) {
  const { materialName, personName, unit, quantity, keptQuantity, at, grossMinor, creditedMinor, owedMinor } = sale;
  const state = stateOf(sale, formatter);
  const what = `${inWords(quantity, unit, formatter)} of ${materialName}`;
  return (
    <tbody id={placeOf(sale)}>
      <tr>
        <th scope="row">
          {what}
          {keptQuantity < quantity && keptQuantity > 0 && (
            <small> {inWords(quantity - keptQuantity, unit, formatter)} of it came back</small>
          )}
          {sale.note && <small> {sale.note}</small>}
        </th>
        <td class="who">{personName}</td>
        <td class="when">{formatter.day(formatter.dayOf(at), today)}</td>
        <td class="number">{formatter.money(grossMinor - creditedMinor)}</td>
        <td class={`state ${state.tone}`}>{state.text}</td>
        <td class="act no-paper">
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
        </td>
      </tr>
      {isOpen && (
        <tr class="opened">
          <td colSpan={6}>
            <TakeBack {...{ sale, formatter, onDone }} onLeave={() => onOpen(false)} />
          </td>
        </tr>
      )}
    </tbody>
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
