import './results.css';
import { useCallback } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { formatDay } from '../../../../trade/text/format.js';
import type { Me } from '../../../api/use-me';
import { ErrorMessage } from '../../../forms/error-message';
import { type At, Page } from '../../../ui/page';
import { CourseSelect } from '../course-select';
import { CoursesTabs } from '../courses-tabs';
import { answerOf, broken, certaintyInWords } from './labels';
import { NoteHours } from './log-hours-form';
import { type Begun, findBegun, readAfterwards, type Told } from './queries';
import { NextPlanTable } from './suggested-assumptions';
import { Effects } from './variance-chart';
import { LineTable, Unknown } from './variance-table';

/** What did a course really cost? */
export function CourseResultsPage() {
  const { courseId } = useRoute().params;
  const first = useCallback((signal: AbortSignal) => findBegun(courseId, signal), [courseId]);
  const read = useCallback(
    (_: Me, signal: AbortSignal, begun: Begun) => readAfterwards(courseId, begun, signal),
    [courseId],
  );
  return (
    <Page question="Planned against actual" tabs={(me) => <CoursesTabs me={me} />} first={first} read={read}>
      {(told, at) => (
        <>
          <CourseSelect
            {...told}
            path="/courses/results"
            others={{ label: 'Find an earlier one', to: '/courses?when=past' }}
            day={(instant) => formatDay(at.formatter.dayOf(instant), at.formatter.locale)}
          />
          <Answered told={told} {...at} />
        </>
      )}
    </Page>
  );
}

function Answered({ told: { was, next, error }, me, formatter }: At & { told: Told }) {
  if (error) return <ErrorMessage>{error}</ErrorMessage>;
  if (!was)
    return <p class="answer">No course has begun yet. Its actual costs are shown here from its first session on.</p>;
  const { before, figure, after } = answerOf(was, formatter);
  return (
    <>
      <p class="answer">
        {before}
        <b>{figure}</b>
        {after}
      </p>
      <p>{certaintyInWords(was)}</p>
      <Effects was={was} formatter={formatter} />
      <LineTable was={was} formatter={formatter} />
      <p>{broken(was)}</p>
      <Unknown was={was} formatter={formatter} />
      {me.rights.includes('courses:write') && <NoteHours key={was.courseId} courseId={was.courseId} today={me.today} />}
      {next && <NextPlanTable next={next} formatter={formatter} />}
    </>
  );
}
