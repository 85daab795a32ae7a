import { useCallback } from 'preact/hooks';
import { api, Refused, signInFirst } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { capital, count, type Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { DoublePair } from '../double-pair';

/** Entries that may be of one person. Nothing is merged by itself. */
export function Doubles({ formatter }: { formatter: Formatter }) {
  const read = useCallback(async (signal: AbortSignal) => {
    const { data } = await api.GET('/api/doubles', { signal });
    if (!data)
      throw new Refused('unknown', 'Who may be in the list twice could not be looked up. Load the page again.');
    return data;
  }, []);
  const { data, error } = useQuery({ key: ['doubles'], read });
  if (error) return signInFirst(error) ? null : <ErrorMessage>{error.message}</ErrorMessage>;
  if (!data || data.items.length === 0) return null;
  const { items, more } = data;
  return (
    <details class="no-paper">
      <summary>
        {more ? `More than ${items.length} pairs` : capital(count(items.length, 'pair'))} may be one person twice
      </summary>
      <ul>
        {items.map((double) => (
          <DoublePair key={`${double.one.id} ${double.other.id}`} {...{ double, formatter }} />
        ))}
      </ul>
      {more && <p class="quiet">The rest follow once these are settled.</p>}
    </details>
  );
}
