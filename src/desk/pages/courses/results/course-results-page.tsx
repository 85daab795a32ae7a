import './results.css';
import { useCallback } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { formatDay } from '../../../../trade/text/format.js';
import type { Schemas } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { type At, Page } from '../../../ui/page';
import { CoursesTabs } from '../courses-tabs';
import { answerOf, broken, certaintyInWords } from './labels';
import { NoteHours } from './log-hours-form';
import { type Course, readAfterwards, type Told } from './queries';
import { NextPlanTable } from './suggested-assumptions';
import { Effects } from './variance-chart';
import { LineTable, Unknown } from './variance-table';

/** What did a course really cost? */
export function CourseResultsPage() {
  const { courseId } = useRoute().params;
  const read = useCallback(
    (me: Schemas['Me'], signal: AbortSignal) => readAfterwards(me, courseId, signal),
    [courseId],
  );
  return (
    <Page question="Planned against actual" tabs={(me) => <CoursesTabs me={me} />} read={read}>
      {(told, at) => (
        <>
          <Choice courses={told.courses} chosen={told.chosen} formatter={at.formatter} />
          <Answered told={told} {...at} />
        </>
      )}
    </Page>
  );
}

function Choice({ courses, chosen, formatter }: { courses: Course[]; chosen: string; formatter: Formatter }) {
  const { route } = useLocation();
  if (courses.length < 2) return null;
  return (
    <div class="choice no-paper">
      <Field
        label="Course"
        choices={courses.map(({ id, title, sessions: [first] }) => [
          id,
          first ? `${title}, ${formatDay(formatter.dayOf(first.startsAt), formatter.locale)}` : title,
        ])}
        value={chosen}
        onChange={(id) => route(`/courses/results/${id}`)}
      />
    </div>
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
