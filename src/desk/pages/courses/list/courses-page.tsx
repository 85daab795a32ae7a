import { BookPlace } from '../../../actions/book-place';
import { BookingsOfCourse } from '../../../actions/bookings-of-course';
import { WaitForPlace } from '../../../actions/waiting-list-add';
import { api } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import type { Formatter } from '../../../format/formatter';
import { placesLeftOn } from '../../../format/places';
import type { Column } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { type Filter, type ListQuery, SearchList } from '../../../ui/search-list';
import { CoursesTabs } from '../courses-tabs';
import { type Course, daysOf, isWaiting, monthOf, placesLeft, stateOf } from '../labels';

/** Which courses are there? */
export function CoursesPage() {
  return (
    <Page question="Courses" tabs={(me) => <CoursesTabs me={me} />} searches>
      {(_, at) => <Courses {...at} />}
    </Page>
  );
}

const FILTERS: readonly Filter[] = [
  {
    name: 'when',
    label: 'Which',
    choices: [
      ['', 'Coming and running'],
      ['past', 'Past or cancelled'],
      ['cancelled', 'Cancelled'],
      ['over', 'Over, to complete'],
      ['all', 'All'],
    ],
  },
];

/** What each choice asks the API for. */
const ASKED = {
  '': { is: 'ahead', order: 'nextDay' },
  past: { is: 'past', order: 'firstDayLast' },
  cancelled: { state: 'cancelled', order: 'firstDayLast' },
  over: { state: 'over', order: 'firstDayLast' },
  all: { order: 'nextDayLast' },
} as const;

async function readCourses({ q, when = '' }: ListQuery, after: string | undefined, signal: AbortSignal) {
  const query = { q, after, ...ASKED[when as keyof typeof ASKED] };
  const { data } = await api.GET('/api/courses', { params: { query }, signal });
  if (!data) throw new Error('The courses could not be loaded. Load the page again.');
  return data;
}

function Courses({ me, formatter }: At) {
  const columns: Column<Course>[] = [
    { head: 'Course', cell: ({ id, title }) => <a href={`/courses/${id}`}>{title}</a> },
    { head: 'Begins', cell: (course) => daysOf(course, formatter) },
    { head: 'Places', cell: placesLeft },
    { head: 'State', cell: (course) => <span class={isWaiting(course) ? 'amber' : undefined}>{stateOf(course)}</span> },
    ...moneyColumns(me, formatter),
  ];
  return (
    <SearchList
      rows={['course', 'courses']}
      searchLabel="Title or plan"
      filters={FILTERS}
      narrowedBy={{ planId: 'of one plan' }}
      read={readCourses}
      columns={columns}
      keyOf={({ id }) => id}
      headingOf={(course) => monthOf(course, formatter)}
      none="No course is coming. Schedule one from its plan, or choose Past or cancelled."
    />
  );
}

/** What a course must cost and what came of it are the owner's to see. */
function moneyColumns({ rights, today }: Me, formatter: Formatter): Column<Course>[] {
  if (!rights.includes('planning:read')) return [];
  return [
    {
      head: 'More',
      cell: ({ id, title, state, ...places }) => (
        <span class="acts">
          {rights.includes('money:write') && state !== 'completed' && state !== 'cancelled' && (
            <>
              {placesLeftOn(places) > 0 ? (
                <BookPlace course={{ courseId: id, title }} formatter={formatter} />
              ) : (
                state === 'coming' && <WaitForPlace course={{ courseId: id, title }} />
              )}
              <BookingsOfCourse course={{ courseId: id, title }} {...{ today, formatter }} />
            </>
          )}
          {state === 'coming' ? (
            <a href={`/courses/price/${id}`} aria-label={`Price of ${title}`}>
              Price
            </a>
          ) : (
            <a href={`/courses/results/${id}`} aria-label={`Results of ${title}`}>
              Results
            </a>
          )}
        </span>
      ),
    },
  ];
}
