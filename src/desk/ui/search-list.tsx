import { useCallback, useEffect, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { signInFirst } from '../api/client';
import { useQuery } from '../api/query';
import { ErrorMessage } from '../forms/error-message';
import { Field } from '../forms/field';
import { type Column, DataTable } from './data-table';

const TYPING_MILLISECONDS = 200;

/** A choice that narrows a list, by its name in the API's query. */
export type Filter = { name: string; label: string; choices: readonly (readonly [string, string])[] };
export type ListQuery = Record<string, string>;
type Found<T> = { items: T[]; next: string | null; total?: number | null };

type Props<T> = {
  /** what the rows are, in the middle of a sentence: "people" */
  rows: string;
  /** what can be typed to find one: "Name, email or phone" */
  searchLabel?: string;
  filters?: readonly Filter[];
  /** One page of what is found; it must be the same function at every rendering. */
  read(query: ListQuery, after: string | undefined, signal: AbortSignal): Promise<Found<T>>;
  columns: readonly Column<T>[];
  keyOf(row: T): string;
  /** what to say of a studio that has none yet */
  none: string;
};

/**
 * A list that the server searches, filters and pages, however long it is. What is searched stands in the address, so that going
 * back shows it again.
 */
export function SearchList<T>({ rows, searchLabel, filters = [], read, columns, keyOf, none }: Props<T>) {
  const [query, setQuery] = useAddressQuery();
  const [pages, setPages] = useState<string[]>([]);
  const readAll = useCallback(
    async (signal: AbortSignal) => {
      const found = await Promise.all([undefined, ...pages].map((after) => read(query, after, signal)));
      const last = found.at(-1);
      return { items: found.flatMap(({ items }) => items), next: last?.next ?? null, total: found[0]?.total ?? null };
    },
    [read, JSON.stringify(query), pages],
  );
  const key = ['list', rows, location.pathname, JSON.stringify(query), pages.join()];
  const { data, error, waiting } = useQuery({ key, read: readAll, keep: true });
  if (error) signInFirst(error);
  const narrow = (name: string, value: string) => {
    setPages([]);
    setQuery({ ...query, [name]: value });
  };
  const narrowed = Object.values(query).some(Boolean);
  return (
    <section class="search-list" aria-busy={waiting && !error}>
      <search class="search-fields no-paper">
        {searchLabel && <SearchField label={searchLabel} value={query.q ?? ''} onSearch={(q) => narrow('q', q)} />}
        {filters.map(({ name, label, choices }) => (
          <Field
            key={name}
            {...{ label, choices }}
            value={query[name] ?? ''}
            onChange={(value) => narrow(name, value)}
          />
        ))}
      </search>
      {error && <ErrorMessage>{error.message}</ErrorMessage>}
      {data && data.items.length === 0 && (
        <p>{narrowed ? `No ${rows} match. Try fewer letters or another choice.` : none}</p>
      )}
      {data && data.items.length > 0 && (
        <DataTable caption={`The ${rows} found`} {...{ columns, keyOf }} rows={data.items} />
      )}
      {data && data.items.length > 0 && (
        <p class="quiet" role="status">
          {data.next
            ? `The first ${data.items.length}${data.total ? ` of ${data.total}` : ''} ${rows}.`
            : `${data.items.length} in all.`}
        </p>
      )}
      {data?.next && (
        <button type="button" class="quiet" onClick={() => setPages([...pages, data.next as string])}>
          Show more {rows}
        </button>
      )}
    </section>
  );
}

/** Asks once somebody has stopped typing for a moment. */
function SearchField({ label, value, onSearch }: { label: string; value: string; onSearch(text: string): void }) {
  const [typed, setTyped] = useState(value);
  useEffect(() => {
    if (typed.trim() === value) return;
    const timer = setTimeout(() => onSearch(typed.trim()), TYPING_MILLISECONDS);
    return () => clearTimeout(timer);
  }, [typed]);
  return <Field label={label} type="search" value={typed} onChange={setTyped} maxLength={80} />;
}

function useAddressQuery(): [ListQuery, (query: ListQuery) => void] {
  const { url, path, route } = useLocation();
  const query = Object.fromEntries(new URLSearchParams(url.split('?')[1] ?? ''));
  const set = (next: ListQuery) => {
    const kept = Object.entries(next).filter(([, value]) => value !== '');
    const search = new URLSearchParams(kept).toString();
    route(search ? `${path}?${search}` : path, true);
  };
  return [query, set];
}
