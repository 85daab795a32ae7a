import '../look/afterwards.css';
import { useCallback } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { formatDay } from '../../trade/text/format.js';
import type { Schemas } from '../client';
import { Fault } from '../entry/field';
import { type At, Page } from '../page';
import type { Tell } from '../tell';
import { Effects } from './effects';
import { LineTable, Unknown } from './line-table';
import { NextPlanTable } from './next-plan';
import { NoteHours } from './note-hours';
import { type Course, readAfterwards, type Told } from './read';
import { answerOf, broken, sureness } from './words';

/** What did a course really cost? */
export function AfterwardsPage() {
  const { courseId } = useRoute().params;
  const read = useCallback((me: Schemas['Me']) => readAfterwards(me, courseId), [courseId]);
  return (
    <Page question="What did a course really cost?" read={read}>
      {(told, at) => (
        <>
          <Choice courses={told.courses} chosen={told.chosen} tell={at.tell} />
          <Answered told={told} {...at} />
        </>
      )}
    </Page>
  );
}

function Choice({ courses, chosen, tell }: { courses: Course[]; chosen: string; tell: Tell }) {
  const { route } = useLocation();
  if (courses.length < 2) return null;
  return (
    <label class="field choice no-paper">
      <span>Course</span>
      <select value={chosen} onChange={(event) => route(`/afterwards/${event.currentTarget.value}`)}>
        {courses.map(({ id, title, sessions: [first] }) => (
          <option key={id} value={id}>
            {first ? `${title}, ${formatDay(tell.dayOf(first.startsAt), tell.locale)}` : title}
          </option>
        ))}
      </select>
    </label>
  );
}

function Answered({ told: { was, next, because }, me, tell, again }: At & { told: Told }) {
  if (because) return <Fault>{because}</Fault>;
  if (!was)
    return <p class="answer">No course has begun yet. What it really cost stands here from its first session on.</p>;
  const { before, figure, after } = answerOf(was, tell);
  return (
    <>
      <p class="answer">
        {before}
        <b>{figure}</b>
        {after}
      </p>
      <p>{sureness(was)}</p>
      <Effects was={was} tell={tell} />
      <LineTable was={was} tell={tell} />
      <p>{broken(was)}</p>
      <Unknown was={was} tell={tell} />
      {me.rights.includes('courses:write') && (
        <NoteHours key={was.courseId} courseId={was.courseId} today={me.today} onNoted={again} />
      )}
      {next && <NextPlanTable next={next} tell={tell} />}
    </>
  );
}
