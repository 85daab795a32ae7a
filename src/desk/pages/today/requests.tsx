import { AnswerRequest } from '../../actions/answer-request';
import type { Schemas } from '../../api/client';
import { count, type Formatter } from '../../format/formatter';
import { type Column, DataTable } from '../../ui/data-table';
import { PhoneLink } from '../../ui/phone-link';

type Request = Schemas['PlaceRequest'];
export type Requests = { items: readonly Request[]; total: number };
type Props = { requests: Requests | null; formatter: Formatter; mayAnswer: boolean };

/** Who asked for a place on the studio's web page, and waits for an answer. A tutor sees none of it. */
export function PlaceRequests({ requests, formatter, mayAnswer }: Props) {
  if (!requests || requests.total === 0) return null;
  const { items, total } = requests;
  const columns: Column<Request>[] = [
    { head: 'Who', cell: (request) => <Asker {...request} /> },
    {
      head: 'What for',
      cell: ({ courseId, courseTitle, places, firstDay, ...request }) => (
        <>
          {count(places, 'place')} on <a href={`/courses/${courseId}`}>{courseTitle}</a>, {formatter.date(firstDay)}{' '}
          <small class={request.placesLeft < places ? 'iron' : 'quiet'}>{leftOf(request)}</small>
          {request.note && <small class="quiet"> “{request.note}”</small>}
        </>
      ),
    },
    ...(mayAnswer
      ? [
          {
            ...{ head: 'Do', headHeard: true },
            cell: (request: Request) => (
              <span class="acts">
                <AnswerRequest {...{ request, formatter }} />
              </span>
            ),
          },
        ]
      : []),
  ];
  return (
    <>
      <DataTable
        id="requests"
        caption="Asked for a place"
        captionShown
        columns={columns}
        rows={items}
        keyOf={({ id }) => id}
      />
      {total > items.length && (
        <p class="quiet">
          The first {items.length} of {total} are shown; the next follow as you answer them.
        </p>
      )}
    </>
  );
}

const Asker = ({ name, email, phone }: Request) => (
  <>
    {name}{' '}
    <small>
      <a href={`mailto:${email}`}>{email}</a>
      {phone && (
        <>
          {' '}
          <PhoneLink phone={phone} />
        </>
      )}
    </small>
  </>
);

function leftOf({ isJoinable, placesLeft }: Pick<Request, 'isJoinable' | 'placesLeft'>): string {
  if (!isJoinable) return 'nobody can join any more';
  return placesLeft === 0 ? 'full' : `${placesLeft} left`;
}
