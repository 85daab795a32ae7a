import { BookPlace } from '../../../actions/book-place';
import { WaitForPlace } from '../../../actions/waiting-list-add';
import type { At } from '../../../ui/page';
import {
  bookedOf,
  bookingOf,
  type Enrolment,
  expectedOf,
  isShort,
  minimumOf,
  pictureOf,
  placesOf,
  sourceOf,
} from './labels';

const [WIDTH, HEIGHT, GAP] = [14, 20, 4];

type Props = At & { courses: readonly Enrolment[] };

/** Each course to come: its places as they are taken, what it needs, and what is expected in the end. */
export function EnrolmentList({ courses, ...at }: Props) {
  return (
    <section aria-labelledby="courses-to-come">
      <h2 id="courses-to-come">
        Courses to come <span>the first first</span>
      </h2>
      <ul class="enrolment">
        {courses.map((course) => (
          <OneCourse key={course.courseId} course={course} {...at} />
        ))}
      </ul>
      <p class="benches-legend">
        {LEGEND.map(([look, words]) => (
          <span key={look}>
            <svg width={WIDTH} height={HEIGHT - 4} aria-hidden="true">
              <Bench look={look} x={1} height={HEIGHT - 6} />
            </svg>
            {words}
          </span>
        ))}
        <span>
          <svg width={6} height={HEIGHT - 4} aria-hidden="true">
            <line class="least" x1={3} x2={3} y1={0} y2={HEIGHT - 4} />
          </svg>
          as many as it needs to run
        </span>
      </p>
    </section>
  );
}

const LEGEND = [
  ['booked', 'booked'],
  ['held', 'held until the deposit is paid'],
  ['offered', 'offered to somebody who waits'],
  ['left', 'left'],
] as const;

function OneCourse({ course, me, formatter }: At & { course: Enrolment }) {
  const { courseId, title, startsAt, kind, left } = course;
  const { longDay, dayOf, time } = formatter;
  const closed = bookingOf(course, me.today, formatter);
  const needed = minimumOf(course, formatter);
  const inTheEnd = expectedOf(course);
  const isSold = kind === 'private' && bookedOf(course) > 0;
  return (
    <li>
      <div>
        <h3>
          <a href={`/courses/${courseId}`}>{title}</a>
        </h3>
        <p class="quiet">
          {longDay(dayOf(startsAt))}, {time(startsAt)}
        </p>
      </div>
      <div>
        <Benches course={course} />
        <p>{placesOf(course)}</p>
        {closed && <p class="amber">{closed}</p>}
        {needed && <p class={isShort(course) ? 'amber' : 'celadon'}>{needed}</p>}
        {inTheEnd && (
          <details>
            <summary>{inTheEnd}</summary>
            <p class="quiet">{sourceOf(course)}</p>
          </details>
        )}
      </div>
      {me.rights.includes('money:write') && !isSold && (
        <div class="acts no-paper">
          {left > 0 ? (
            <BookPlace course={{ courseId, title }} formatter={formatter} />
          ) : (
            <WaitForPlace course={{ courseId, title }} />
          )}
        </div>
      )}
    </li>
  );
}

/** A bench for each place, from the booked to those left, with a line behind the last that is needed. */
function Benches({ course }: { course: Enrolment }) {
  const { kind, confirmed, held, offered, places } = course;
  const minimum = kind === 'private' ? 0 : course.minimum;
  const taken = Array.from({ length: Math.max(places, confirmed + held + offered) }, (_, i) =>
    i < confirmed ? 'booked' : i < confirmed + held ? 'held' : i < confirmed + held + offered ? 'offered' : 'left',
  );
  const step = WIDTH + GAP;
  const perRow = 20;
  const rows = Math.ceil(taken.length / perRow);
  const at = (i: number) => ({ x: 2 + (i % perRow) * step, y: 2 + Math.floor(i / perRow) * (HEIGHT + 6) });
  const last = at(minimum - 1);
  return (
    <svg
      role="img"
      aria-label={pictureOf(course)}
      width={Math.min(taken.length, perRow) * step + 4}
      height={rows * (HEIGHT + 6)}
    >
      {taken.map((look, i) => (
        <Bench key={i} look={look} {...at(i)} height={HEIGHT} />
      ))}
      {minimum > 0 && (
        <line class="least" x1={last.x + WIDTH + 1} x2={last.x + WIDTH + 1} y1={last.y - 2} y2={last.y + HEIGHT + 2} />
      )}
    </svg>
  );
}

const Bench = ({ look, x, y = 1, height }: { look: string; x: number; y?: number; height: number }) => (
  <rect class={`bench ${look}`} x={x} y={y} width={WIDTH - 2} height={height} />
);
