import '../../../ui/styles/raised.css';
import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { api } from '../../../api/client';
import type { Column } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { PhoneLink } from '../../../ui/phone-link';
import { type Filter, type ListQuery, SearchList } from '../../../ui/search-list';
import { PeopleTabs } from '../people-tabs';
import { PersonForm } from '../person-form';
import type { Person } from '../person-values';
import { Doubles } from './doubles';

/** Who is who? */
export function PeoplePage() {
  return (
    <Page question="People" tabs={(me) => <PeopleTabs me={me} />} searches>
      {(_, at) => <People {...at} />}
    </Page>
  );
}

const FILTERS: readonly Filter[] = [
  {
    name: 'kind',
    label: 'Who',
    choices: [
      ['', 'Everyone'],
      ['student', 'Students'],
      ['member', 'Members'],
      ['maker', 'Makers of ware'],
    ],
  },
];

async function readPeople({ q, kind }: ListQuery, after: string | undefined, signal: AbortSignal) {
  const query = { q, kind: kind as 'student' | undefined, after, order: 'name' as const };
  const { data } = await api.GET('/api/people', { params: { query }, signal });
  if (!data) throw new Error('The people could not be loaded. Load the page again.');
  return data;
}

function People({ me, formatter }: At) {
  const [adding, setAdding] = useState(false);
  const { route } = useLocation();
  const columns: Column<Person>[] = [
    { head: 'Name', cell: ({ id, name }) => <a href={`/people/${id}`}>{name}</a> },
    { head: 'Email', cell: ({ email }) => email && <a href={`mailto:${email}`}>{email}</a> },
    { head: 'Phone', cell: ({ phone }) => phone && <PhoneLink phone={phone} /> },
    { head: 'Member since', cell: ({ memberSince }) => memberSince && formatter.fullDate(memberSince) },
  ];
  const add = (
    <p class="acts no-paper">
      <button type="button" onClick={() => setAdding(true)}>
        Add a person
      </button>
    </p>
  );
  const form = <PersonForm of={null} onSaved={({ id }) => route(`/people/${id}`)} onCancel={() => setAdding(false)} />;
  return (
    <SearchList
      rows={['person', 'people']}
      searchLabel="Name, email, phone or piece code"
      filters={FILTERS}
      read={readPeople}
      columns={columns}
      keyOf={({ id }) => id}
      none="Add the people who book, make and pay, or bring in a list of them under Studio."
      acts={
        me.rights.includes('people:write') && (
          <>
            {adding ? form : add}
            <Doubles formatter={formatter} />
          </>
        )
      }
    />
  );
}
