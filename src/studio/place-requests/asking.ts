import type { Transaction } from '../../database/transaction.js';
import { moneyInText } from '../../documents/words.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import type { Course } from '../courses/contract.js';
import { countTaken } from '../courses/queries.js';
import { whyNotBookable } from '../courses/selling.js';
import { getCourseToday, hasBegun } from '../courses/service.js';
import { sessionInWords } from '../courses/session-dates.js';
import { getStudio } from '../settings/service.js';
import { getOpenWebPage } from '../web-page/service.js';
import type { AskableCourse, AskedPlaces, NewPlaceRequest } from './contract.js';
import { countOpenRequests, insertRequest } from './queries.js';

/** More that nobody has answered are no requests: the studio is away, or a program asks. */
export const WAITING_MAX = 100;

/** A course as somebody sees it who would like to come. */
export async function getAskableCourse(tx: Transaction, now: Date, courseId: string): Promise<AskableCourse> {
  const course = await getOpenCourse(tx, now, courseId);
  const studio = await getStudio(tx);
  const { title, sessions, priceMinor, places } = course;
  return {
    ...{ title, priceMinor, studioName: studio.name },
    sessions: sessions
      .filter(({ cancelledBecause }) => cancelledBecause === null)
      .map((session) => sessionInWords(session, studio)),
    price: moneyInText(studio)(priceMinor),
    placesLeft: Math.max(0, places - (await countTaken(tx, courseId))),
  };
}

/** Notes that somebody would like to come. It books nothing, and writes to nobody: an address that was only typed may be another's. */
export async function askForPlaces(
  tx: Transaction,
  now: Date,
  courseId: string,
  { website, ...asked }: NewPlaceRequest,
): Promise<AskedPlaces> {
  const { title, places: all } = await getOpenCourse(tx, now, courseId);
  const { places } = asked;
  if (website !== '') return { title, places };
  if (places > all)
    throw new Problem('invalid-request', `The course has ${all} places in all. Ask for fewer.`, {
      errors: [{ pointer: '#/places', detail: `must be at most ${all}` }],
    });
  if ((await countOpenRequests(tx, WAITING_MAX)) >= WAITING_MAX)
    throw new Problem(
      'requests-waiting',
      'The studio has more requests than it can answer at the moment. Ring it or write to it instead.',
    );
  await insertRequest(tx, newId(), now, { courseId, ...asked });
  return { title, places };
}

/** @throws Problem not-found while the owner takes no requests, and of a course that nobody can join */
async function getOpenCourse(tx: Transaction, now: Date, courseId: string): Promise<Course> {
  const { takesRequests } = await getOpenWebPage(tx);
  if (!takesRequests) throw new Problem('not-found', 'Places can’t be asked for here. Ring the studio or write to it.');
  const course = await getCourseToday(tx, now, courseId);
  if (course.kind === 'private' || course.cancelled || course.completedOn !== null || hasBegun(course, now))
    throw new Problem('not-found', 'Nobody can join this course any more. Look for another on the studio’s web page.');
  const { timeZone, locale } = await getStudio(tx);
  const closed = whyNotBookable(course, localDay(now, timeZone), locale);
  if (closed) throw new Problem('not-found', `${closed} Ring the studio or write to it if you would like to come.`);
  return course;
}
