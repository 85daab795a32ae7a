import '../look/charges.css';
import '../look/payment.css';
import '../look/raised.css';
import '../look/sales.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { type Schemas, signInFirst } from '../client';
import { type Paid, PaymentForm } from '../owes/payment-form';
import { Receipt } from '../owes/receipt';
import type { Debtor } from '../owes/reckoning';
import { type At, Page } from '../page';
import { Phrases } from '../phrases';
import { Ways } from '../shelf/ways';
import type { Tell } from '../tell';
import { Latest } from './latest';
import { owedFor, readSales, readSelling, type Sale, type Selling } from './read';
import { SellForm } from './sell-form';
import { answerOf, inWords } from './words';

/** Who takes what home? */
export function SalesPage() {
  return (
    <Page question="Who takes material home?" read={readSelling}>
      {(selling, at) => (
        <>
          <Ways me={at.me} />
          <Sales selling={selling} {...at} />
        </>
      )}
    </Page>
  );
}

/** What happened last, and what it left to do. */
type Told = { said: string; sale?: Sale; asksForCount?: boolean; paid?: Paid };

function Sales({ selling, me: { today }, tell, again }: At & { selling: Selling }) {
  const [told, setTold] = useState<Told | null>(null);
  const [paying, setPaying] = useState<Debtor | null>(null);
  const [earlier, setEarlier] = useState<Pick<Selling, 'sales' | 'more'>>({ sales: [], more: selling.more });
  const sales = [...selling.sales, ...earlier.sales];
  const { more } = earlier.sales.length > 0 ? earlier : selling;
  const done = async (next: Told) => {
    setPaying(null);
    await again();
    setEarlier({ sales: [], more: false }); // what was read before may not be so any more
    setTold(next);
  };
  const sold = (made: Schemas['Sold']) =>
    done({ said: soldInWords(made, tell), sale: made, asksForCount: made.asksForCount });
  const pay = async (sale: Sale) => {
    try {
      const debtor = await owedFor(sale);
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
        <Phrases of={answerOf(selling, today, tell)} />
      </p>
      {told?.paid && <Receipt key={told.paid.payment.id} paid={told.paid} money={tell.money} />}
      {told && !told.paid && <Said told={told} onPay={pay} />}
      {paying && (
        <section>
          <h2 class="heard">A payment</h2>
          <PaymentForm
            key={paying.charges[0]?.chargeId}
            debtor={paying}
            tell={tell}
            onPaid={(paid) => void done({ said: '', paid })}
            onLeave={() => setPaying(null)}
          />
        </section>
      )}
      <SellForm selling={selling} tell={tell} onSold={sold} />
      <Latest {...{ today, tell }} sales={sales} onPay={pay} onDone={(said) => done({ said })} />
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

const soldInWords = ({ personName, quantity, unit, materialName, grossMinor }: Sale, tell: Tell): string =>
  `${personName} takes ${inWords(quantity, unit, tell)} of ${materialName} home and owes ${tell.money(grossMinor)} for it.`;

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
          More of {sale.materialName} went than the books held. <a href="/shelf/count">Count it</a> when you can.
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
