import { localDay, localInstant, localTime } from '../../trade/calendar/calendar.js';
import { formatMoneyInText } from '../../trade/money/money.js';
import { escapeHtml } from '../../trade/text/escape-html.js';
import { formatDay } from '../../trade/text/format.js';
import type { PublicCourse, PublicCourses, PublicSession } from './public-courses.js';

/**
 * Coming courses as HTML to be put into the studio's own web page: no script and no style, only names of classes that its own style
 * may use. All that the owner typed is escaped.
 */
export function htmlFragment({ studio, courses, askAt }: PublicCourses): string {
  const body =
    courses.length === 0
      ? paragraph('none', 'No courses are planned at the moment.')
      : `<ul>\n${courses.map((course) => itemOf(course, studio, askAt)).join('\n')}\n</ul>`;
  return `<div class="wareboard-courses" lang="en">\n${body}\n</div>\n`;
}

type Studio = PublicCourses['studio'];

function itemOf(
  { id, title, sessions, priceMinor, placesLeft, closedBecause }: PublicCourse,
  studio: Studio,
  askAt: string | null,
): string {
  const tutors = [...new Set(sessions.flatMap((session) => session.tutors))];
  const price = formatMoneyInText(priceMinor, studio.currency, studio.locale);
  return [
    '<li class="wareboard-course">',
    `<h3 class="wareboard-title">${escapeHtml(title)}</h3>`,
    ...sessions.map((session) => `<p class="wareboard-when">${timeOf(session, studio)}</p>`),
    ...(tutors.length > 0 ? [paragraph('tutors', `With ${tutors.join(', ')}`)] : []),
    paragraph('price', `${price} for a place`),
    paragraph('places', placesLeft === 0 ? 'Full' : placesLeft === 1 ? '1 place left' : `${placesLeft} places left`),
    ...(closedBecause === null ? [] : [paragraph('booking', closedBecause)]),
    ...(askAt === null || closedBecause !== null
      ? []
      : [linkTo(`${askAt}${id}`, placesLeft > 0 ? 'Ask for a place' : 'Ask to be on the waiting list', title)]),
    '</li>',
  ].join('\n');
}

const linkTo = (address: string, text: string, title: string) =>
  `<p class="wareboard-ask"><a href="${escapeHtml(address)}">${text}<span class="wareboard-about"> on ${escapeHtml(title)}</span></a></p>`;

const paragraph = (name: string, text: string) => `<p class="wareboard-${name}">${escapeHtml(text)}</p>`;

function timeOf({ startsAt, endsAt }: PublicSession, { locale, timeZone }: Studio): string {
  const day = formatDay(localDay(startsAt, timeZone), locale, { weekday: true });
  const text = `${day}, ${localTime(startsAt, timeZone)} to ${localTime(endsAt, timeZone)}`;
  return `<time datetime="${escapeHtml(localInstant(startsAt, timeZone))}">${escapeHtml(text)}</time>`;
}
