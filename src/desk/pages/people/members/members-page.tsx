import { useCallback } from 'preact/hooks';
import { api } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import type { Column } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { type Filter, type ListQuery, SearchList } from '../../../ui/search-list';
import { type Membership, monthOf, stateOf, toneOf } from '../membership-labels';
import { PeopleTabs } from '../people-tabs';
import { StartMembership } from '../start-membership';

/** Who is a member, and how does each stand? */
export function MembersPage() {
  return (
    <Page question="Members" tabs={(me) => <PeopleTabs me={me} />} searches>
      {(_, at) => <Members {...at} />}
    </Page>
  );
}

type Which = 'open' | 'ended' | 'all';

const FILTERS: readonly Filter[] = [
  {
    name: 'which',
    label: 'Which',
    choices: [
      ['', 'Members now and to come'],
      ['ended', 'Former members'],
      ['all', 'All memberships'],
    ],
  },
];

function Members({ me, formatter }: At) {
  const read = useCallback(readMemberships, []);
  return (
    <SearchList
      rows={['membership', 'memberships']}
      searchLabel="Name, email or phone"
      filters={FILTERS}
      narrowedBy={{ kindId: 'of one kind' }}
      read={read}
      columns={columnsOf(formatter)}
      keyOf={({ id }) => id}
      none="Nobody is a member yet. Add a kind of membership first, then start one for somebody."
      acts={
        me.rights.includes('money:write') && (
          <p class="acts no-paper">
            <StartMembership formatter={formatter} today={me.today} />
          </p>
        )
      }
    />
  );
}

async function readMemberships({ q, which, kindId }: ListQuery, after: string | undefined, signal: AbortSignal) {
  const query = { q, kindId, which: which as Which | undefined, after };
  const { data } = await api.GET('/api/memberships', { params: { query }, signal });
  if (!data) throw new Error('The memberships could not be loaded. Load the page again.');
  return data;
}

function columnsOf(formatter: Formatter): Column<Membership>[] {
  const { money } = formatter;
  return [
    { head: 'Member', cell: ({ id, personName }) => <a href={`/people/members/${id}`}>{personName}</a> },
    { head: 'Membership', cell: ({ kindName }) => kindName },
    { head: 'State', cell: (membership) => stateOf(membership, formatter), toneOf },
    { head: 'Shelf', cell: ({ shelf }) => shelf?.name },
    {
      head: 'Last charge',
      cell: ({ lastMonth }) => lastMonth && `${monthOf(lastMonth.month, formatter)}, ${money(lastMonth.amountMinor)}`,
    },
    { head: 'Fee', figures: true, cell: ({ feeMinor }) => money(feeMinor) },
    {
      head: 'Owed',
      figures: true,
      cell: ({ owedMinor }) => money(owedMinor),
      toneOf: ({ owedMinor }) => (owedMinor === 0 ? 'none' : 'iron'),
    },
  ];
}
