import { inOrder } from '../../database/find-page.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate } from '../../database/values.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { placesLeftOf, placesTaken } from '../courses/queries.js';
import { soldOn, whyNotBookable } from '../courses/selling.js';
import { getStudio } from '../settings/service.js';
import type { WebPageSettings } from './contract.js';
import { findPublicCourses } from './queries.js';

export type PublicSession = {
  id: string;
  sequence: number;
  startsAt: Date;
  endsAt: Date;
  /** empty where the owner does not want them named */
  tutors: string[];
};

export type PublicCourse = {
  id: string;
  kind: 'course' | 'openStudio';
  title: string;
  /** gross, for one place */
  priceMinor: number;
  /** the first and the last day on which places are booked, where the owner gave them */
  bookableFrom: string | null;
  bookableUntil: string | null;
  /** why no place is booked today: "Booking opens on 3 January 2027."; null where it is */
  closedBecause: string | null;
  places: number;
  placesLeft: number;
  /** those that take place; there is one at least */
  sessions: [PublicSession, ...PublicSession[]];
};

/** All that the public addresses say: nothing of anyone but the studio, and of those who teach where the owner wants it. */
export type PublicCourses = {
  studio: { name: string; addressLines: string[]; currency: string; locale: string; timeZone: string };
  courses: PublicCourse[];
  /** where a place on one of them can be asked for, once its id is added; null where it can't be */
  askAt: string | null;
};

const INCLUDE = {
  plan: { select: { kind: true } },
  sessions: {
    where: { cancelledAt: null },
    orderBy: { startsAt: 'asc' },
    include: {
      sessionTutors: { select: { staffMember: { select: { name: true } } }, orderBy: { staffMember: { name: 'asc' } } },
    },
  },
} as const;

/**
 * Every course and open studio that has not begun, the first first.
 * @param base how people reach this program
 */
export async function listPublicCourses(
  tx: Transaction,
  now: Date,
  { namesTutors, takesRequests }: Pick<WebPageSettings, 'namesTutors' | 'takesRequests'>,
  base: string,
): Promise<PublicCourses> {
  const { name, addressLines, currency, locale, timeZone } = await getStudio(tx);
  const ids = await findPublicCourses(tx, now);
  const rows = inOrder(ids, await tx.course.findMany({ where: { id: { in: ids } }, include: INCLUDE }));
  const taken = await placesTaken(tx, ids);
  const today = localDay(now, timeZone);
  const courses = rows.flatMap(({ id, title, places, plan: { kind }, sessions: all, ...row }): PublicCourse[] => {
    const [first, ...others] = all.map(({ id, sequence, startsAt, endsAt, sessionTutors }) => ({
      ...{ id, sequence, startsAt, endsAt },
      tutors: namesTutors ? sessionTutors.map(({ staffMember }) => staffMember.name) : [],
    }));
    if (kind === 'private' || !first) return [];
    const placesLeft = placesLeftOf(places, taken.get(id));
    return [
      { ...{ id, kind, title, places, placesLeft }, ...sellingOf(row, today, locale), sessions: [first, ...others] },
    ];
  });
  return {
    studio: { name, addressLines, currency, locale, timeZone },
    courses,
    askAt: takesRequests ? `${base}/ask/` : null,
  };
}

type Row = {
  priceMinor: number;
  laterPriceFrom: Date | null;
  laterPriceMinor: number | null;
  bookableFrom: Date | null;
  bookableUntil: Date | null;
};

/** What is asked for today, and whether places are booked. */
function sellingOf({ priceMinor, laterPriceFrom, laterPriceMinor, ...row }: Row, today: string, locale: string) {
  const laterPrice =
    laterPriceFrom && laterPriceMinor ? { from: fromDate(laterPriceFrom), priceMinor: laterPriceMinor } : null;
  const bookable = {
    bookableFrom: row.bookableFrom && fromDate(row.bookableFrom),
    bookableUntil: row.bookableUntil && fromDate(row.bookableUntil),
  };
  return {
    priceMinor: soldOn({ priceMinor, laterPrice }, today).priceMinor,
    ...bookable,
    closedBecause: whyNotBookable({ ...bookable, ageFrom: null, ageTo: null }, today, locale),
  };
}
