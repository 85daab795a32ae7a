import { useCallback } from 'preact/hooks';
import { api, Refused, type Schemas } from '../api/client';
import { useQuery } from '../api/query';
import { capital, count, type Formatter } from '../format/formatter';
import { type Column, DataTable } from '../ui/data-table';
import { LookedUp } from '../ui/looked-up';
import { untilOf } from './waiting-list-offers';

export type WaitingEntry = Schemas['WaitingEntry'];
type List = Schemas['WaitingList'];
type Props = {
  courseId: string;
  formatter: Formatter;
  onOffer(): void;
  onAccept(entry: WaitingEntry): void;
  onRemove(entry: WaitingEntry): void;
};

/** Who waits for a place on a course; a free one is offered from here. */
export function WaitingListOfCourse({ courseId, ...props }: Props) {
  const read = useCallback(
    async (signal: AbortSignal) => {
      const { data } = await api.GET('/api/courses/{courseId}/waiting-list', {
        params: { path: { courseId } },
        signal,
      });
      if (!data) throw new Refused('unknown', 'The waiting list could not be loaded. Close this and open it again.');
      return data;
    },
    [courseId],
  );
  const query = useQuery({ key: ['waiting list', courseId], read, fresh: true });
  return (
    <LookedUp what="the waiting list" query={query}>
      {(list) => <Waiting list={list} {...props} />}
    </LookedUp>
  );
}

function Waiting({ list, formatter, onOffer, ...on }: Omit<Props, 'courseId'> & { list: List }) {
  const { waiting, ended, nextId, placesLeft } = list;
  if (waiting.length === 0 && ended.length === 0) return null;
  const next = waiting.find(({ id }) => id === nextId);
  return (
    <section>
      <h3>Waiting list</h3>
      {waiting.length === 0 ? (
        <p>Nobody waits any more.</p>
      ) : (
        <>
          <p>
            {placesLeft === 0
              ? 'No place is free to offer.'
              : next
                ? `${capital(count(placesLeft, 'place'))} free. ${next.personName} is next.`
                : `${capital(count(placesLeft, 'place'))} free, and everybody who waits would like more.`}
          </p>
          {next && (
            <p class="acts">
              <button type="button" onClick={onOffer}>
                Offer a place
              </button>
            </p>
          )}
          <DataTable caption="Who waits" columns={columnsOf(formatter, on)} rows={waiting} keyOf={({ id }) => id} />
        </>
      )}
      {ended.length > 0 && <Ended entries={ended} formatter={formatter} />}
    </section>
  );
}

function columnsOf(
  formatter: Formatter,
  { onAccept, onRemove }: Pick<Props, 'onAccept' | 'onRemove'>,
): Column<WaitingEntry>[] {
  const { date, dayOf } = formatter;
  return [
    { head: 'Who', cell: ({ personId, personName }) => <a href={`/people/${personId}`}>{personName}</a> },
    { head: 'Places', figures: true, cell: ({ places }) => String(places) },
    { head: 'Since', cell: ({ since }) => date(dayOf(since)) },
    { head: 'Note', cell: ({ note }) => note ?? '' },
    {
      head: 'Offer',
      cell: ({ offeredUntil }) =>
        offeredUntil ? <span class="amber">Offered {untilOf(offeredUntil, formatter)}</span> : 'Waits',
    },
    {
      head: '',
      cell: (entry) => (
        <span class="acts">
          {entry.offeredUntil && (
            <button
              type="button"
              class="quiet"
              aria-label={`Book for ${entry.personName}`}
              onClick={() => onAccept(entry)}
            >
              Book
            </button>
          )}
          <button
            type="button"
            class="quiet"
            aria-label={`Remove ${entry.personName} from the waiting list`}
            onClick={() => onRemove(entry)}
          >
            {entry.offeredUntil ? 'Decline' : 'Remove'}
          </button>
        </span>
      ),
    },
  ];
}

const ENDS: Record<NonNullable<WaitingEntry['ended']>, string> = {
  booked: 'has a place',
  declined: 'declined the offer',
  lapsed: 'did not answer in time',
  removed: 'taken off the list',
  courseCancelled: 'the course was cancelled',
};

/** Who waited before, and what came of it. */
function Ended({ entries, formatter: { date, dayOf } }: { entries: readonly WaitingEntry[]; formatter: Formatter }) {
  return (
    <details>
      <summary>Who waited before ({entries.length})</summary>
      <ul>
        {entries.map(({ id, personName, ended, endedAt }) => (
          <li key={id}>
            {personName}: {ended && ENDS[ended]}
            {endedAt && `, ${date(dayOf(endedAt))}`}
          </li>
        ))}
      </ul>
    </details>
  );
}
