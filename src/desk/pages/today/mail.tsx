import { capital, count, type Formatter } from '../../format/formatter';
import { type Column, DataTable } from '../../ui/data-table';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import type { Today } from './labels';

type Props = { today: Today; formatter: Formatter };

/** "placeConfirmed" is "Place confirmed". */
const occasionCalled = (occasion: string) =>
  capital(occasion.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`));

/** Letters that did not arrive, and why. */
export function Mail({ today: { mail, day }, formatter }: Props) {
  const narrow = useNarrow();
  if (!mail || mail.failed.length === 0) return null;
  const columns: Column<(typeof mail.failed)[number]>[] = [
    { head: 'To', cell: ({ noticeId, personName }) => <a href={`/letters/${noticeId}`}>{personName}</a> },
    {
      head: 'What',
      cell: ({ occasion, at }) => (
        <>
          {occasionCalled(occasion)}
          <small> {formatter.day(formatter.dayOf(at), day)}</small>
        </>
      ),
    },
    {
      head: 'Why',
      cell: ({ outcome, detail }) =>
        outcome === 'noAddress' ? 'There is no email address. Print it and hand it over.' : detail,
    },
  ];
  return (
    <Disclosure open={!narrow} title="Did not arrive" note={count(mail.failed.length, 'email')}>
      <DataTable
        id="mail"
        caption="Did not arrive"
        columns={columns}
        rows={mail.failed}
        keyOf={({ noticeId }) => noticeId}
      />
    </Disclosure>
  );
}
