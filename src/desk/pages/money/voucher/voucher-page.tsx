import { useCallback } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import type { Formatter } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { MoneyTabs } from '../money-tabs';
import { codeOf, stateOf, type TaxRate, toneOf, type Voucher } from '../voucher-labels';
import { ExtendVoucher } from './extend-voucher';
import { LapseVoucher } from './lapse-voucher';

type Event = Schemas['VoucherEvent'];
type Found = { voucher: Voucher; events: Event[]; rates: TaxRate[] };

/** What is left on this voucher, and what became of it? */
export function VoucherPage() {
  const { params } = useRoute();
  const id = params.voucherId ?? '';
  const read = useCallback((_: Me, signal: AbortSignal) => readVoucher(id, signal), [id]);
  return (
    <Page
      question="A voucher"
      tabs={(me) => <MoneyTabs me={me} />}
      read={read}
      headed={({ voucher }) => `Voucher ${codeOf(voucher)}`}
    >
      {(found, at) => <Known {...found} {...at} />}
    </Page>
  );
}

async function readVoucher(voucherId: string, signal: AbortSignal): Promise<Found> {
  const params = { path: { voucherId } };
  const [voucher, events, rates] = await Promise.all([
    api.GET('/api/vouchers/{voucherId}', { params, signal }),
    api.GET('/api/vouchers/{voucherId}/events', { params, signal }),
    api.GET('/api/tax-rates', { signal }),
  ]);
  if (!voucher.data || !events.data || !rates.data)
    throw new Refused('unknown', 'This voucher could not be loaded. Load the page again.');
  return { voucher: voucher.data, events: events.data.items, rates: rates.data.items };
}

function Known({ voucher, events, rates, me, formatter }: At & Found) {
  const { buyerId, buyerName, forWhom, goodFor, leftMinor, amountMinor, documentId, taxed, taxName, state } = voucher;
  const { money, moneyInText } = formatter;
  const mayWrite = me.rights.includes('money:write');
  const facts = [
    ['Bought by', <a href={`/people/${buyerId}`}>{buyerName}</a>],
    ['For', forWhom],
    ['Meant for', goodFor],
    ['Worth', money(amountMinor)],
    ['VAT', taxed === 'when-sold' ? `was due when it was sold (${taxName})` : 'is due when it is used'],
  ] as const;
  return (
    <>
      <p class="answer">
        <b>{moneyInText(leftMinor)}</b> left. <span class={toneOf(voucher)}>{stateOf(voucher, formatter)}.</span>
      </p>
      <dl class="facts">
        {facts.map(
          ([head, what]) =>
            what && (
              <div key={head}>
                <dt>{head}</dt>
                <dd>{what}</dd>
              </div>
            ),
        )}
      </dl>
      <p class="acts no-paper">
        <a href={`/api/documents/${documentId}/pdf`} target="_blank" rel="noopener">
          Print the voucher
        </a>
        {mayWrite && leftMinor > 0 && voucher.validUntil !== null && (
          <ExtendVoucher voucher={voucher} formatter={formatter} />
        )}
        {mayWrite && state === 'expired' && <LapseVoucher voucher={voucher} rates={rates} formatter={formatter} />}
      </p>
      {leftMinor > 0 && state === 'open' && (
        <p class="quiet">When somebody brings it, take their payment, choose With a voucher, and type its code.</p>
      )}
      <section>
        <h2>What became of it</h2>
        <DataTable
          caption="What became of it"
          columns={columnsOf(formatter)}
          rows={events.toReversed()}
          keyOf={({ id }) => id}
        />
      </section>
    </>
  );
}

const KINDS: Record<Event['kind'], string> = {
  sold: 'Sold',
  used: 'Used',
  returned: 'Given back',
  lapsed: 'Lapsed',
  extended: 'Extended',
};

function columnsOf({ fullDate, money }: Formatter): Column<Event>[] {
  return [
    { head: 'What', cell: ({ kind }) => KINDS[kind] },
    { head: 'On', cell: ({ on }) => fullDate(on) },
    {
      head: 'About',
      cell: ({ what, validUntil, madeBy }) =>
        validUntil === null ? what : `Until ${fullDate(validUntil)}, by ${madeBy}: ${what}`,
    },
    { head: 'Amount', figures: true, cell: ({ amountMinor }) => (amountMinor === null ? '' : money(amountMinor)) },
  ];
}
