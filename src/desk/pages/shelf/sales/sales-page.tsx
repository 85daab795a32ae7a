import '../../../actions/payment/payment.css';
import '../../../ui/styles/raised.css';
import './sales.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Debtor } from '../../../actions/payment/charge-totals';
import { type Paid, PaymentForm } from '../../../actions/payment/payment-form';
import { Receipt } from '../../../actions/payment/receipt';
import { type Schemas, signInFirst } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { Phrases } from '../../../format/phrases';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';
import { answerOf, inWords } from './labels';
import { getOwedForSale, readSales, readSelling, type Sale, type Selling } from './queries';
import { Latest } from './recent-sales';
import { SellForm } from './sell-form';

/** Who takes what home? */
export function SalesPage() {
  return (
    <Page question="Sell clay and glaze" tabs={(me) => <ShelfTabs me={me} />} read={readSelling}>
      {(selling, at) => (
        <>
          <Sales selling={selling} {...at} />
        </>
      )}
    </Page>
  );
}

/** What happened last, and what it left to do. */
type Told = { said: string; sale?: Sale; asksForCount?: boolean; paid?: Paid };

function Sales({ selling, me: { today }, formatter }: At & { selling: Selling }) {
  const [told, setTold] = useState<Told | null>(null);
  const [paying, setPaying] = useState<Debtor | null>(null);
  const [earlier, setEarlier] = useState<Pick<Selling, 'sales' | 'more'>>({ sales: [], more: selling.more });
  const sales = [...selling.sales, ...earlier.sales];
  const { more } = earlier.sales.length > 0 ? earlier : selling;
  const done = (next: Told) => {
    setPaying(null);
    setEarlier({ sales: [], more: false }); // what was read before may not be so any more
    setTold(next);
  };
  const sold = (made: Schemas['Sold']) =>
    done({ said: soldInWords(made, formatter), sale: made, asksForCount: made.asksForCount });
  const pay = async (sale: Sale) => {
    try {
      const debtor = await getOwedForSale(sale);
      setTold(debtor ? null : { said: 'It is paid already.' });
      setPaying(debtor);
    } catch (error) {
      if (!signInFirst(error)) setTold({ said: (error as Error).message });
    }
  };
  const showEarlier = async () => {
    try {
      const next = await readSales(sales.at(-1)?.id);
      setEarlier({ sales: [...earlier.sales, ...next.sales], more: next.more });
    } catch (error) {
      if (!signInFirst(error)) setTold({ said: (error as Error).message });
    }
  };
  return (
    <>
      <p class="answer">
        <Phrases of={answerOf(selling, today, formatter)} />
      </p>
      {told?.paid && <Receipt key={told.paid.payment.id} paid={told.paid} money={formatter.money} />}
      {told && !told.paid && <Said told={told} onPay={pay} />}
      {paying && (
        <section>
          <h2 class="heard">A payment</h2>
          <PaymentForm
            key={paying.charges[0]?.chargeId}
            debtor={paying}
            formatter={formatter}
            thenRead
            onPaid={(paid) => done({ said: '', paid })}
            onLeave={() => setPaying(null)}
          />
        </section>
      )}
      <SellForm selling={selling} formatter={formatter} onSold={sold} />
      <Latest {...{ today, formatter }} sales={sales} onPay={pay} onDone={(said) => done({ said })} />
      {more && (
        <p class="no-paper">
          The latest {sales.length} sales are shown; there are earlier ones.{' '}
          <button type="button" class="quiet" onClick={() => void showEarlier()}>
            Show more
          </button>
        </p>
      )}
    </>
  );
}

const soldInWords = ({ personName, quantity, unit, materialName, grossMinor }: Sale, formatter: Formatter): string =>
  `${personName} takes ${inWords(quantity, unit, formatter)} of ${materialName} home and owes ${formatter.money(grossMinor)} for it.`;

function Said({ told: { said, sale, asksForCount }, onPay }: { told: Told; onPay(sale: Sale): Promise<void> }) {
  const here = useRef<HTMLParagraphElement>(null);
  useEffect(() => here.current?.focus(), [said]);
  return (
    <>
      <p class="done" role="status" tabIndex={-1} ref={here}>
        {said}
      </p>
      {asksForCount && sale && (
        <p class="amber">
          More {sale.materialName} went than was recorded. <a href="/shelf/count">Count it</a> when you can.
        </p>
      )}
      {sale && (
        <p class="acts no-paper">
          <button type="button" onClick={() => void onPay(sale)}>
            Take the payment
          </button>
        </p>
      )}
    </>
  );
}
