import type { ComponentChildren } from 'preact';
import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { signInFirst } from '../api/client';
import { useQuery } from '../api/query';
import { capital } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { Field } from '../forms/field';
import { SEARCH_MAX } from '../forms/limits';
import { type Column, DataTable } from './data-table';
import { answerOf, groupsOf } from './list-words';

const TYPING_MILLISECONDS = 200;

/** What narrows a list, by its name in the address: a day, or a choice whose first is what an address without it means. */
export type Filter = { name: string; label: string } & (
  | { choices: readonly (readonly [string, string])[] }
  | { type: 'date' }
);
export type ListQuery = Record<string, string>;
type Found<T> = { items: T[]; next: string | null; total: number; totalIsMinimum: boolean };

type Props<T> = {
  /** what a row is, in the middle of a sentence, and what several are */
  rows: readonly [one: string, more: string];
  /** what can be typed to find one: "Name, email or phone" */
  searchLabel?: string;
  filters?: readonly Filter[];
  /** What a link from elsewhere may narrow the list to, by its name in the address, as it is said: "of one maker". */
  narrowedBy?: Readonly<Record<string, string>>;
  /** One page of what is found; it must be the same function at every rendering. */
  read(query: ListQuery, after: string | undefined, signal: AbortSignal): Promise<Found<T>>;
  columns: readonly Column<T>[];
  keyOf(row: T): string;
  /** the heading under which a row is shown, such as its month; rows of one heading come one after another */
  headingOf?(row: T): string;
  /** what to say of a studio that has none yet */
  none: string;
  /** what can be done, between the search and the rows */
  acts?: ComponentChildren;
};

/** How many pages of each list were open, so that going back shows them again. */
const opened = new Map<string, string[]>();

/**
 * A list that the server searches, filters and pages, however long it is. What is searched stands in the address, so that going
 * back shows it again.
 */
export function SearchList<T>({ rows, searchLabel, filters = [], narrowedBy = {}, read, acts, ...shown }: Props<T>) {
  const [query, narrow] = useAddressQuery(['q', ...filters.map(({ name }) => name), ...Object.keys(narrowedBy)]);
  const listKey = `${location.pathname} ${JSON.stringify(query)}`;
  const [, redraw] = useState(0);
  const pages = opened.get(listKey) ?? [];
  const more = (after: string) => {
    opened.set(listKey, [...pages, after]);
    redraw(pages.length + 1);
  };
  const readAll = useCallback(
    async (signal: AbortSignal) => {
      const found = await Promise.all([undefined, ...pages].map((after) => read(query, after, signal)));
      const { total = 0, totalIsMinimum = false } = found[0] ?? {};
      return { items: found.flatMap(({ items }) => items), next: found.at(-1)?.next ?? null, total, totalIsMinimum };
    },
    [read, listKey, pages.length],
  );
  const key = ['list', rows[1], listKey, pages.length];
  const { data, error, waiting } = useQuery({ key, read: readAll, keep: true });
  if (error) signInFirst(error);
  const links = Object.keys(narrowedBy).filter((name) => query[name]);
  const isNarrowed = Object.keys(query).length > 0;
  return (
    <section class="search-list" aria-busy={waiting && !error}>
      <p class="answer" role="status">
        {data ? answerOf(data, rows, isNarrowed) : ' '}
      </p>
      {links.map((name) => (
        <p key={name} class="no-paper">
          Only those {narrowedBy[name]}. <a href={location.pathname}>Show all {rows[1]}</a>
        </p>
      ))}
      <search class="search-fields no-paper">
        {searchLabel && <SearchField label={searchLabel} value={query.q ?? ''} onSearch={(q) => narrow('q', q)} />}
        {filters.map((filter) => (
          <FilterField key={filter.name} {...{ filter }} value={query[filter.name]} onChange={narrow} />
        ))}
      </search>
      {acts}
      {error && <ErrorMessage>{error.message}</ErrorMessage>}
      {data && <Rows found={data} {...{ rows, isNarrowed, ...shown }} onMore={more} />}
    </section>
  );
}

type RowsProps<T> = Pick<Props<T>, 'rows' | 'columns' | 'keyOf' | 'headingOf' | 'none'> & {
  found: Found<T>;
  isNarrowed: boolean;
  onMore(after: string): void;
};

function Rows<T>({ found: { items, next }, rows: [, many], isNarrowed, onMore, ...shown }: RowsProps<T>) {
  const { headingOf, none, columns, keyOf } = shown;
  if (items.length === 0) return <p>{isNarrowed ? 'Try fewer letters or another choice.' : none}</p>;
  return (
    <>
      {groupsOf(items, headingOf).map(({ heading, items: own }) => (
        <section key={heading ?? ''} aria-label={heading}>
          {heading && <h2>{heading}</h2>}
          <DataTable
            caption={heading ? `${capital(many)}: ${heading}` : capital(many)}
            {...{ columns, keyOf }}
            rows={own}
            grouped={heading !== undefined}
          />
        </section>
      ))}
      {next && (
        <p class="acts no-paper">
          <span class="quiet">The first {items.length} are shown.</span>
          <button type="button" class="quiet" onClick={() => onMore(next)}>
            Show more {many}
          </button>
        </p>
      )}
    </>
  );
}

type FilterProps = { filter: Filter; value: string | undefined; onChange(name: string, value: string): void };

function FilterField({ filter, value, onChange }: FilterProps) {
  const { name, label } = filter;
  if ('type' in filter)
    return <Field {...{ label }} type="date" value={value ?? ''} onChange={(day) => onChange(name, day)} />;
  const { choices } = filter;
  const usual = choices[0]?.[0] ?? '';
  return (
    <Field
      {...{ label, choices }}
      value={value ?? usual}
      onChange={(chosen) => onChange(name, chosen === usual ? '' : chosen)}
    />
  );
}

/** Asks once somebody has stopped typing for a moment. */
function SearchField({ label, value, onSearch }: { label: string; value: string; onSearch(text: string): void }) {
  const [typed, setTyped] = useState(value);
  const asked = useRef(value);
  useEffect(() => {
    if (value === asked.current) return;
    asked.current = value; // somebody came here by a link, or back
    setTyped(value);
  }, [value]);
  useEffect(() => {
    if (typed.trim() === asked.current) return;
    const timer = setTimeout(() => {
      asked.current = typed.trim();
      onSearch(typed.trim());
    }, TYPING_MILLISECONDS);
    return () => clearTimeout(timer);
  }, [typed]);
  return <Field label={label} type="search" value={typed} onChange={setTyped} maxLength={SEARCH_MAX} />;
}

/** What the address says of these names, and a way to say one of them; the address is read anew, since others may have changed it. */
function useAddressQuery(names: readonly string[]): [ListQuery, (name: string, value: string) => void] {
  const { url, route } = useLocation();
  const said = [...new URLSearchParams(url.split('?')[1] ?? '')];
  const query = Object.fromEntries(said.filter(([name, value]) => names.includes(name) && value !== ''));
  const set = (name: string, value: string) => {
    const next = new URLSearchParams(location.search);
    if (value) next.set(name, value);
    else next.delete(name);
    const search = next.toString();
    route(search ? `${location.pathname}?${search}` : location.pathname, true);
  };
  return [query, set];
}
