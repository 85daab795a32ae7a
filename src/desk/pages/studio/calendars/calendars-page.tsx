import { useState } from 'preact/hooks';
import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { type Column, DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { useCopy } from '../../../ui/use-copy';
import { StudioTabs } from '../studio-tabs';

type Feed = Schemas['CalendarFeed'];
type Made = Schemas['MadeCalendarFeed'];

async function readFeeds(_: Me, signal: AbortSignal): Promise<Feed[]> {
  const { data } = await api.GET('/api/calendar-feeds', { signal });
  if (!data) throw new Refused('unknown', 'The calendars could not be loaded. Load the page again.');
  return data.items;
}

/** Whose sessions can be read by a calendar on a phone or a computer? */
export function CalendarsPage() {
  return (
    <Page question="Calendars" tabs={(me) => <StudioTabs me={me} />} read={readFeeds}>
      {(feeds, at) => <Feeds feeds={feeds} {...at} />}
    </Page>
  );
}

function Feeds({ feeds, formatter }: At & { feeds: readonly Feed[] }) {
  const [made, setMade] = useState<Made | null>(null);
  const open = feeds.filter(({ feed }) => feed !== null).length;
  return (
    <>
      <p class="answer">
        {open === 0
          ? 'No calendar can read your sessions yet.'
          : `${open} of ${feeds.length} can be read by a calendar.`}
      </p>
      <p>
        A calendar that subscribes to such an address shows the sessions and follows every change. Anyone who has the
        address can read them: when and where, and how many come, but nobody's name except the tutors'. Make a new one
        where it has come into the wrong hands; the earlier one then ends.
      </p>
      {made && <NewAddress key={made.address} made={made} onClose={() => setMade(null)} />}
      <DataTable
        caption="Calendars"
        columns={columnsOf(formatter, setMade)}
        rows={feeds}
        keyOf={({ of, subjectId }) => `${of} ${subjectId}`}
      />
    </>
  );
}

const WHAT: Record<Feed['of'], string> = { studio: 'All sessions', room: 'Room', tutor: 'Who teaches' };

function columnsOf({ fullDate, dayOf }: Formatter, onMade: (made: Made) => void): Column<Feed>[] {
  return [
    { head: 'Of', cell: ({ name }) => name },
    { head: 'What', cell: ({ of }) => WHAT[of] },
    {
      head: 'Address',
      cell: ({ feed }) =>
        feed === null ? (
          <span class="quiet">none</span>
        ) : (
          `made on ${fullDate(dayOf(feed.createdAt))} by ${feed.madeBy}`
        ),
    },
    {
      head: 'Last read',
      cell: ({ feed }) => feed && (feed.lastReadAt === null ? 'not yet' : fullDate(dayOf(feed.lastReadAt))),
    },
    { head: 'Change', headHeard: true, cell: (feed) => <Change feed={feed} onMade={onMade} /> },
  ];
}

function Change({ feed: { of, subjectId, name, feed }, onMade }: { feed: Feed; onMade(made: Made): void }) {
  const mutation = useMutation();
  const make = () => {
    const body = { of, subjectId };
    return mutation.run(body, async (headers) => {
      const { data } = await api.POST('/api/calendar-feeds', { body, headers });
      if (data) onMade(data);
    });
  };
  const end = (feedId: string) =>
    mutation.run(feedId, (headers) =>
      api.POST('/api/calendar-feeds/{feedId}/end', { params: { path: { feedId } }, headers }),
    );
  return (
    <span class="acts">
      <button
        type="button"
        class="quiet"
        aria-label={`${feed === null ? 'Make an address' : 'Make a new address'} for ${name}`}
        aria-disabled={mutation.busy}
        onClick={make}
      >
        {feed === null ? 'Make an address' : 'Make a new address'}
      </button>
      {feed && (
        <button
          type="button"
          class="quiet"
          aria-label={`End the address for ${name}`}
          aria-disabled={mutation.busy}
          onClick={() => end(feed.id)}
        >
          End it
        </button>
      )}
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
    </span>
  );
}

/** An address as it was just made: nobody is shown it a second time. */
function NewAddress({ made: { name, address, opensHereOnly }, onClose }: { made: Made; onClose(): void }) {
  const { control, copy, said } = useCopy(address ?? '', 'The address');
  return (
    <section aria-labelledby="new-address">
      <h2 id="new-address">The address for {name}</h2>
      {address === null ? (
        <p>The address was shown before, and is not shown again. Make a new one if it is lost.</p>
      ) : (
        <>
          <p role="status">It is shown here this once. Give it to the calendar as one to subscribe to.</p>
          {opensHereOnly && (
            <p class="fault">
              It can be read only on the computer that runs Wareboard, because you opened Wareboard there. For a phone,
              set BASE_URL to the address people use, and make a new one.
            </p>
          )}
          <Field label="Address" value={address} control={control} readOnly />
        </>
      )}
      <p class="acts">
        {address !== null && (
          <button type="button" onClick={copy}>
            Copy address
          </button>
        )}
        <button type="button" class="quiet" onClick={onClose}>
          Close
        </button>
        <span role="status">{said}</span>
      </p>
    </section>
  );
}
