import { useCallback } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { BookPlace } from '../../../actions/book-place';
import { ExtraPlace } from '../../../actions/extra-place';
import { WaitForPlace } from '../../../actions/waiting-list-add';
import type { Me } from '../../../api/use-me';
import { placesLeftOn } from '../../../format/places';
import { DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { CoursesTabs } from '../courses-tabs';
import { AddSession } from './add-session';
import { CancelCourse } from './cancel-course';
import { ChangeRemaining } from './change-remaining';
import {
  attendeeColumns,
  bookingColumns,
  cancelledColumns,
  changeColumns,
  sessionColumns,
  useColumns,
} from './columns';
import { CompleteCourse } from './complete-course';
import { EditCourse } from './edit-course';
import { EditTerms } from './edit-terms';
import { allSessionsOf, answerOf, sellingOf, usesOf } from './labels';
import { type CourseRead, readCourse } from './queries';
import { NoteReclaim, WeighOut } from './weigh-material';

/** When is this course, who comes, and what is still to do for it? */
export function CoursePage() {
  const { params } = useRoute();
  const courseId = params.courseId ?? '';
  const read = useCallback((me: Me, signal: AbortSignal) => readCourse(courseId, me, signal), [courseId]);
  return (
    <Page question="A course" tabs={(me) => <CoursesTabs me={me} />} read={read} headed={({ course }) => course.title}>
      {(found, at) => <Known key={found.course.id} {...found} at={at} />}
    </Page>
  );
}

type Props = CourseRead & { at: At };

function Known({ at, ...found }: Props) {
  const { course, hazards } = found;
  return (
    <>
      <p class="answer">{answerOf(course, at.formatter)}</p>
      <Acts {...found} at={at} />
      <section>
        <h2>Sessions</h2>
        <DataTable
          caption="Sessions"
          columns={sessionColumns(course, at.me, at.formatter)}
          rows={allSessionsOf(course)}
          keyOf={({ id }) => id}
        />
        {mayAdd(course, at.me) && at.me.studio && (
          <p class="acts no-paper">
            <AddSession {...{ course, formatter: at.formatter }} timeZone={at.me.studio.timeZone} />
            {course.nextStartsAt !== null && <ChangeRemaining course={course} />}
          </p>
        )}
      </section>
      <WhoComes {...found} at={at} />
      <Uses {...found} at={at} />
      <Changes {...found} at={at} />
      {hazards.map((hazard) => (
        <p key={hazard} class="caution">
          {hazard}
        </p>
      ))}
    </>
  );
}

/** A visit to open studio has one session, and what is over or cancelled gets no more. */
const mayAdd = ({ kind, completedOn, state }: Props['course'], { rights }: Me) =>
  rights.includes('courses:write') && kind !== 'openStudio' && completedOn === null && state !== 'cancelled';

/** What it costs, and where to go on. */
function Acts({ course, terms, bookings, at: { me, formatter } }: Props) {
  const { id, title, planId, planName, state } = course;
  const isFull = placesLeftOn(course) === 0;
  const isSold = course.kind === 'private' && course.placesTaken > 0;
  const mayBook = me.rights.includes('money:write') && state === 'coming';
  return (
    <>
      {course.note && <p>{course.note}</p>}
      {terms && <p>{priceOf(terms, formatter)}</p>}
      {sellingOf(course, formatter) && <p>{sellingOf(course, formatter)}</p>}
      <p class="acts no-paper">
        {me.rights.includes('courses:write') && course.completedOn === null && state !== 'cancelled' && (
          <EditCourse course={course} />
        )}
        {mayEditTerms(course, me) && <EditTerms {...{ course, formatter }} />}
        {mayBook && !isFull && !isSold && <BookPlace course={{ courseId: id, title }} formatter={formatter} />}
        {mayBook && isFull && !isSold && <WaitForPlace course={{ courseId: id, title }} />}
        {mayBook && isFull && course.kind !== 'private' && me.rights.includes('courses:write') && (
          <ExtraPlace course={{ courseId: id, title }} formatter={formatter} />
        )}
        {mayBook && <CancelCourse {...{ course, formatter }} />}
        {me.rights.includes('courses:write') && state === 'over' && bookings && (
          <CompleteCourse {...{ course, bookings, formatter }} />
        )}
        {me.rights.includes('planning:read') && (
          <>
            <a href={`/courses/price/${id}`}>Price</a>
            {state !== 'coming' && state !== 'cancelled' && (
              <a href={`/courses/results/${id}`}>Planned against actual</a>
            )}
            <a href={`/courses/plans/${planId}`}>Plan: {planName}</a>
          </>
        )}
      </p>
    </>
  );
}

const mayEditTerms = ({ completedOn, state }: Props['course'], { rights }: Me) =>
  rights.includes('courses:write') && rights.includes('money:read') && completedOn === null && state !== 'cancelled';

function priceOf(
  { priceMinor, laterPrice, depositMinor, groupOf }: NonNullable<Props['terms']>,
  { moneyInText: money, date }: At['formatter'],
) {
  const whole = groupOf === null ? `${money(priceMinor)} a place` : `${money(priceMinor)} for a group of ${groupOf}`;
  const later = laterPrice ? ` From ${date(laterPrice.from)} it is ${money(laterPrice.priceMinor)}.` : '';
  return depositMinor > 0
    ? `${whole}, of which ${money(depositMinor)} is the deposit.${later}`
    : `${whole}, no deposit.${later}`;
}

/** By booking with its money, or by name for somebody who may not see that. */
function WhoComes({ course, bookings, people, at: { me, formatter } }: Props) {
  if (bookings === null)
    return (
      <section>
        <h2>Who comes</h2>
        {people.length === 0 && <p class="quiet">Nobody has booked yet.</p>}
        {people.length > 0 && (
          <DataTable caption="Who comes" columns={attendeeColumns} rows={people} keyOf={({ personId }) => personId} />
        )}
      </section>
    );
  const open = bookings.filter(({ state }) => state !== 'cancelled');
  const cancelled = bookings.filter(({ state }) => state === 'cancelled');
  const gone = cancelled.some(({ movedToId }) => movedToId !== null)
    ? 'Cancelled and moved bookings'
    : 'Cancelled bookings';
  return (
    <>
      {course.cancelled === null && (
        <section>
          <h2>Who comes</h2>
          {open.length === 0 && <p class="quiet">Nobody has booked yet.</p>}
          {open.length > 0 && (
            <DataTable
              caption="Who comes"
              columns={bookingColumns(course.title, me, formatter)}
              rows={open}
              keyOf={({ id }) => id}
            />
          )}
        </section>
      )}
      {cancelled.length > 0 && (
        <section>
          <h2>{gone}</h2>
          <DataTable caption={gone} columns={cancelledColumns(formatter)} rows={cancelled} keyOf={({ id }) => id} />
        </section>
      )}
    </>
  );
}

function Uses({ course, draws, at: { me, formatter } }: Props) {
  const mayWeigh = me.rights.includes('stock:write') && course.state !== 'cancelled';
  if (draws === null || (draws.length === 0 && !mayWeigh)) return null;
  const uses = usesOf(draws);
  return (
    <section>
      <h2>What it used</h2>
      {uses.length === 0 && <p class="quiet">Nothing was weighed out for it yet.</p>}
      {uses.length > 0 && (
        <DataTable
          caption="What it used"
          columns={useColumns(formatter)}
          rows={uses}
          keyOf={({ materialId }) => materialId}
        />
      )}
      {mayWeigh && (
        <p class="acts no-paper">
          <WeighOut {...{ course, formatter }} today={me.today} />
          {uses.length > 0 && <NoteReclaim {...{ course, uses, formatter }} />}
        </p>
      )}
    </section>
  );
}

/** What was changed of it, the latest first. */
function Changes({ changes, at: { formatter } }: Props) {
  if (changes.length === 0) return null;
  return (
    <section>
      <h2>What was changed</h2>
      <DataTable
        caption="What was changed"
        columns={changeColumns(formatter)}
        rows={changes.toReversed()}
        keyOf={({ id }) => id}
      />
    </section>
  );
}
