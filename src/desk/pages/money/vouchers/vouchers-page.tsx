import { api } from '../../../api/client';
import type { Column } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { type Filter, type ListQuery, SearchList } from '../../../ui/search-list';
import { MoneyTabs } from '../money-tabs';
import { codeOf, stateOf, toneOf, type Voucher } from '../voucher-labels';
import { SellVoucher } from './sell-voucher';

/** Which vouchers are out, and what is left on them? */
export function VouchersPage() {
  return (
    <Page question="Vouchers" tabs={(me) => <MoneyTabs me={me} />} searches>
      {(_, at) => <Vouchers {...at} />}
    </Page>
  );
}

type State = 'open' | 'expired' | 'ended';

const FILTERS: readonly Filter[] = [
  {
    name: 'state',
    label: 'Which',
    choices: [
      ['', 'All vouchers'],
      ['open', 'With something left'],
      ['expired', 'Expired, with something left'],
      ['ended', 'Used up or lapsed'],
    ],
  },
];

async function readVouchers({ q, state, buyerId }: ListQuery, after: string | undefined, signal: AbortSignal) {
  const query = { q, buyerId, state: state as State | undefined, after };
  const { data } = await api.GET('/api/vouchers', { params: { query }, signal });
  if (!data) throw new Error('The vouchers could not be loaded. Load the page again.');
  return data;
}

function Vouchers({ me, formatter }: At) {
  const { date, money } = formatter;
  const columns: Column<Voucher>[] = [
    { head: 'Code', cell: (voucher) => <a href={`/money/vouchers/${voucher.id}`}>{codeOf(voucher)}</a> },
    { head: 'Bought by', cell: ({ buyerId, buyerName }) => <a href={`/people/${buyerId}`}>{buyerName}</a> },
    { head: 'For', cell: ({ forWhom }) => forWhom },
    { head: 'Sold', cell: ({ issuedOn }) => date(issuedOn), spare: true },
    { head: 'State', cell: (voucher) => stateOf(voucher, formatter), toneOf },
    { head: 'Worth', figures: true, cell: ({ amountMinor }) => money(amountMinor) },
    { head: 'Left', figures: true, cell: ({ leftMinor }) => money(leftMinor) },
  ];
  return (
    <SearchList
      rows={['voucher', 'vouchers']}
      searchLabel="Code, buyer or whom it is for"
      filters={FILTERS}
      narrowedBy={{ buyerId: 'bought by one person' }}
      read={readVouchers}
      columns={columns}
      keyOf={({ id }) => id}
      none="No voucher has been sold yet."
      acts={
        me.rights.includes('money:write') && (
          <p class="acts no-paper">
            <SellVoucher formatter={formatter} />
          </p>
        )
      }
    />
  );
}
