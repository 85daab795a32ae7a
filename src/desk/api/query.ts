import { QueryClient, QueryObserver } from '@tanstack/query-core';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { Refused } from './client';

const TRIES = 2;

/**
 * What has been read stays for a while: a page that is opened again shows at once what it showed, and asks in the meantime.
 * Only an answer that never came is asked for again by itself; a refusal is an answer.
 */
const client = new QueryClient({
  defaultOptions: {
    queries: {
      networkMode: 'always', // a studio's server may be reached without the internet
      retry: (failures, error) => failures < TRIES && error instanceof Refused && error.type === 'unreachable',
      retryDelay: 400,
      staleTime: 0,
    },
  },
});

export type QueryKey = readonly (string | number | boolean | null | undefined)[];

type Options<T> = {
  /** Tells queries apart: whatever the answer depends on. */
  key: QueryKey;
  /** Asks the API; the signal ends a request that nobody waits for any more. */
  read(signal: AbortSignal): Promise<T>;
  /** false: not to be asked yet */
  enabled?: boolean;
  /** Never shows what was read before: for what is edited, which must be seen as it is now. */
  fresh?: boolean;
  /** While another key is read, what the one before showed stays: for lists that are searched. */
  keep?: boolean;
};

/** What the API answers to one question; read again whenever something was changed through the desk. */
export function useQuery<T>({ key, read, enabled = true, fresh = false, keep = false }: Options<T>) {
  const options = {
    queryKey: key,
    queryFn: ({ signal }: { signal: AbortSignal }) => read(signal),
    enabled,
    ...(fresh && { gcTime: 0 }),
    ...(keep && { placeholderData: (before: T | undefined) => before }),
  };
  const observer = useMemo(() => new QueryObserver<T, Error, T, T, QueryKey>(client, options as never), []);
  const [result, setResult] = useState(() => observer.getCurrentResult());
  useEffect(() => observer.subscribe(setResult), [observer]);
  useEffect(() => {
    observer.setOptions(options as never);
    setResult(observer.getCurrentResult());
  }, [JSON.stringify(key), read, enabled]);
  return {
    data: result.data,
    error: result.error,
    /** nothing to show yet, or something else than was asked for */
    waiting: result.isPending || result.isPlaceholderData,
    /** Asks again. @returns when the answer is shown */
    refetch: async () => void (await observer.refetch()),
  };
}

/** What a query on the page has read, or is just reading, without asking again. */
export const readOnce = <T>({ key, read }: Pick<Options<T>, 'key' | 'read'>): Promise<T> =>
  client.ensureQueryData({ queryKey: key, queryFn: ({ signal }) => read(signal) });

/**
 * What is opened to be changed, read once: another's change since then must not be written over unasked, and what is typed stays where
 * it is while the page reads again. For a part of the page that is there only while the form is open.
 */
export function useOpened<T>(options: Pick<Options<T>, 'key' | 'read'>) {
  const [opened, setOpened] = useState<T>();
  const { data, error, refetch } = useQuery({ ...options, fresh: true, enabled: opened === undefined });
  useEffect(() => setOpened((before) => before ?? data), [data]);
  return { opened, error, refetch };
}

/** Everything that is shown is read again: for whoever changed something. */
export const refetchAll = (): Promise<void> => client.invalidateQueries();
