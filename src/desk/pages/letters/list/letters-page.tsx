import { api } from '../../../api/client';
import type { Column } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { type Filter, type ListQuery, SearchList } from '../../../ui/search-list';
import { type Letter, OCCASIONS, STATES, toneOf, wayOf } from '../labels';

/** What was sent, and what was not? */
export function LettersPage() {
  return (
    <Page question="Letters" searches>
      {(_, at) => <Letters {...at} />}
    </Page>
  );
}

const FILTERS: readonly Filter[] = [
  { name: 'state', label: 'State', choices: [['', 'Any state'], ...Object.entries(STATES)] },
  { name: 'occasion', label: 'About', choices: [['', 'Anything'], ...Object.entries(OCCASIONS)] },
];

async function readLetters(asked: ListQuery, after: string | undefined, signal: AbortSignal) {
  const { q, personId } = asked;
  const state = asked.state as Letter['state'] | undefined;
  const occasion = asked.occasion as Letter['occasion'] | undefined;
  const query = { q, personId, state, occasion, after, order: 'newest' as const };
  const { data } = await api.GET('/api/notices', { params: { query }, signal });
  if (!data) throw new Error('The letters could not be loaded. Load the page again.');
  return data;
}

function Letters({ formatter }: At) {
  const columns: Column<Letter>[] = [
    { head: 'Letter', cell: ({ id, occasion }) => <a href={`/letters/${id}`}>{OCCASIONS[occasion]}</a> },
    { head: 'To', cell: ({ personId, personName }) => <a href={`/people/${personId}`}>{personName}</a> },
    { head: 'Written', cell: ({ createdAt }) => formatter.date(formatter.dayOf(createdAt)) },
    {
      head: 'State',
      cell: (letter) => (
        <span>
          <span class={toneOf(letter.state)}>{STATES[letter.state]}</span> <small>{wayOf(letter, formatter)}</small>
        </span>
      ),
    },
    {
      head: 'Paper',
      cell: ({ documentId, fileName }) =>
        documentId && (
          <a href={`/api/documents/${documentId}/pdf`} target="_blank" rel="noopener">
            {fileName}
          </a>
        ),
    },
  ];
  return (
    <SearchList
      rows={['letter', 'letters']}
      searchLabel="To: name, email or phone"
      filters={FILTERS}
      narrowedBy={{ personId: 'to one person' }}
      read={readLetters}
      columns={columns}
      keyOf={({ id }) => id}
      none="Nothing has been written yet. Bookings, receipts and ware that is ready each send their letter."
    />
  );
}
