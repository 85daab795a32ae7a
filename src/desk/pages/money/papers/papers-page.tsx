import { api } from '../../../api/client';
import { PAPER_KINDS, type Paper, paperCalled } from '../../../format/paper';
import type { Column } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { type Filter, type ListQuery, SearchList } from '../../../ui/search-list';
import { MoneyTabs } from '../money-tabs';

/** Which papers were issued? */
export function PapersPage() {
  return (
    <Page question="Papers" tabs={(me) => <MoneyTabs me={me} />} searches>
      {(_, at) => <Papers {...at} />}
    </Page>
  );
}

const FILTERS: readonly Filter[] = [
  { name: 'kind', label: 'Which', choices: [['', 'All papers'], ...Object.entries(PAPER_KINDS)] },
  { name: 'from', label: 'From', type: 'date' },
  { name: 'to', label: 'Up to', type: 'date' },
];

async function readPapers({ q, personId, kind, from, to }: ListQuery, after: string | undefined, signal: AbortSignal) {
  const query = { q, personId, kind: kind as Paper['kind'] | undefined, from, to, after };
  const { data } = await api.GET('/api/papers', { params: { query }, signal });
  if (!data) throw new Error('The papers could not be loaded. Load the page again.');
  return data;
}

function Papers({ formatter }: At) {
  const { date, money } = formatter;
  const columns: Column<Paper>[] = [
    {
      head: 'Paper',
      cell: (paper) => (
        <a href={`/api/documents/${paper.documentId}/pdf`} target="_blank" rel="noopener">
          {paperCalled(paper)}
        </a>
      ),
    },
    { head: 'For', cell: ({ personId, name }) => (personId ? <a href={`/people/${personId}`}>{name}</a> : name) },
    { head: 'Issued', cell: ({ issuedOn }) => date(issuedOn) },
    { head: 'Amount', figures: true, cell: ({ amountMinor }) => (amountMinor === null ? '' : money(amountMinor)) },
  ];
  return (
    <SearchList
      rows={['paper', 'papers']}
      searchLabel="Number, voucher code or name"
      filters={FILTERS}
      narrowedBy={{ personId: 'for one person' }}
      read={readPapers}
      columns={columns}
      keyOf={({ documentId }) => documentId}
      none="No paper has been issued yet. A payment makes its receipt."
    />
  );
}
