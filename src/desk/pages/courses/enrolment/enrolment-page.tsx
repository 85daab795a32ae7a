import './enrolment.css';
import { BookPlace } from '../../../actions/book-place';
import { TakePayment } from '../../../actions/take-payment';
import { api, Refused } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import type { Formatter } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { PhoneLink } from '../../../ui/phone-link';
import { CoursesTabs } from '../courses-tabs';
import { EnrolmentList } from './enrolment-list';
import { answerOf, type Call, type Hold, type Outlook, reasonOf } from './labels';

async function readOutlook(_: Me, signal: AbortSignal): Promise<Outlook> {
  const { data } = await api.GET('/api/enrolment-outlook', { signal });
  if (!data) throw new Refused('unknown', 'The courses could not be loaded. Load the page again.');
  return data;
}

/** Which courses are filling, which are not, and whom to ring? */
export function EnrolmentPage() {
  return (
    <Page question="Which courses are filling?" tabs={(me) => <CoursesTabs me={me} />} read={readOutlook}>
      {(outlook, at) => (
        <>
          <p class="answer">{answerOf(outlook, at.formatter)}</p>
          {outlook.courses.length > 0 && <EnrolmentList courses={outlook.courses} {...at} />}
          <Holds holds={outlook.holds} {...at} />
          <Calls calls={outlook.calls} {...at} />
        </>
      )}
    </Page>
  );
}

function Holds({ holds, me, formatter }: At & { holds: readonly Hold[] }) {
  return (
    <section>
      <h2>
        Holds that run out <span>within a week</span>
      </h2>
      {holds.length === 0 && <p class="quiet">No held place waits for its deposit this week.</p>}
      {holds.length > 0 && (
        <DataTable
          caption="Holds that run out within a week"
          columns={holdColumns(me, formatter)}
          rows={holds}
          keyOf={({ bookingId }) => bookingId}
        />
      )}
    </section>
  );
}

function Calls({ calls, me, formatter }: At & { calls: readonly Call[] }) {
  return (
    <section>
      <h2>
        Whom to ring <span>who wanted such a place</span>
      </h2>
      {calls.length === 0 && (
        <p class="quiet">
          Nobody waits for a course like those with places left, and nobody let a hold of one of them run out.
        </p>
      )}
      {calls.length > 0 && (
        <DataTable
          caption="Whom to ring"
          columns={callColumns(me, formatter)}
          rows={calls}
          keyOf={({ courseId, personId }) => `${courseId} ${personId}`}
        />
      )}
    </section>
  );
}

type Person = { personId: string; name: string; phone: string | null; email: string | null };

const personColumns: Column<Person>[] = [
  { head: 'Who', cell: ({ personId, name }) => <a href={`/people/${personId}`}>{name}</a> },
  { head: 'Reach them', cell: reached },
];

function reached({ phone, email }: Person) {
  if (phone) return <PhoneLink phone={phone} />;
  if (email) return <a href={`mailto:${email}`}>{email}</a>;
  return <span class="quiet">no phone, no email</span>;
}

const courseOf = ({ courseId, title }: { courseId: string; title: string }) => (
  <a href={`/courses/${courseId}`}>{title}</a>
);

function holdColumns({ rights }: Me, formatter: Formatter): Column<Hold>[] {
  const { longDay, dayOf, time } = formatter;
  return [
    ...personColumns,
    { head: 'Course', cell: courseOf },
    { head: 'Places', cell: ({ places }) => places, figures: true },
    { head: 'Held until', cell: ({ heldUntil }) => `${longDay(dayOf(heldUntil))}, ${time(heldUntil)}` },
    ...(rights.includes('money:write')
      ? [
          {
            ...{ head: 'Do', headHeard: true },
            cell: ({ personId, name }: Hold) => <TakePayment person={{ personId, name }} formatter={formatter} />,
          },
        ]
      : []),
  ];
}

function callColumns({ rights }: Me, formatter: Formatter): Column<Call>[] {
  const { date, dayOf } = formatter;
  return [
    ...personColumns,
    { head: 'For', cell: courseOf },
    { head: 'Why', cell: (call) => `${reasonOf(call)}, since ${date(dayOf(call.since))}` },
    { head: 'Places', cell: ({ places }) => places, figures: true },
    ...(rights.includes('money:write')
      ? [
          {
            ...{ head: 'Do', headHeard: true },
            cell: ({ courseId, title, personId, name }: Call) => (
              <BookPlace course={{ courseId, title }} person={{ id: personId, name }} formatter={formatter} />
            ),
          },
        ]
      : []),
  ];
}
