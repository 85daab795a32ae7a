import type { Booking } from '../../../studio/bookings/contract.js';
import type { Course } from '../../../studio/courses/contract.js';
import { momentInWords } from '../../../studio/courses/session-dates.js';
import type { Studio } from '../../../studio/settings/contract.js';
import type { OutlookItem } from '../../../studio/stock-outlook/contract.js';
import { formatDay } from '../../../trade/text/format.js';
import { AMOUNT, type Money, section, table } from './text.js';

export function bookingsSection(course: Course, bookings: readonly Booking[], studio: Studio, money: Money): string {
  const current = bookings.filter((b) => b.state !== 'cancelled');
  const places = (state: Booking['state']) =>
    current.filter((b) => b.state === state).reduce((sum, b) => sum + b.attendees.length, 0);
  const [confirmed, provisional] = [places('confirmed'), places('provisional')];
  const begins = momentInWords(course.sessions[0]?.startsAt ?? '', studio);
  const answer = `${confirmed} of ${course.places} places are confirmed and ${provisional} held; ${course.places - confirmed - provisional} are free. It begins on ${begins}.`;
  const rows = bookings.map((b) => [
    b.attendees.map((a) => a.name).join(', '),
    b.state === 'provisional' && b.heldUntil ? `provisional until ${momentInWords(b.heldUntil, studio)}` : b.state,
    money.inTable(b.priceMinor),
    money.inTable(b.paidMinor),
    b.state === 'provisional' && b.paidMinor === 0 ? 'not yet' : money.inTable(b.owedMinor),
  ]);
  return section(
    `Who is coming to "${course.title}"?`,
    answer,
    table(
      [
        { head: 'who', max: 40 },
        { head: 'how', max: 42 },
        { head: 'price', align: 'right' },
        { head: 'paid', align: 'right' },
        { head: 'owed', align: 'right' },
      ],
      rows,
    ),
  );
}

/** "88% chance", or "at most 88%". */
function chanceBy({ rows, atMost }: OutlookItem, day: string): string {
  const percent = Number(rows.find((row) => row.day === day)?.shortChance ?? 0) * 100;
  return `${atMost ? 'at most ' : ''}${percent > 99 && percent < 100 ? 'over 99' : percent.toFixed(0)}%${atMost ? '' : ' chance'}`;
}

export function outlookSection(items: readonly OutlookItem[], { locale }: Studio): string {
  const on = (day: string) => formatDay(day, locale);
  const short = items.filter((item) => item.orderBy !== null);
  const todo = short.map(({ mixId, name, unit, packs, packQuantity, orderBy }) =>
    mixId !== null
      ? `mix ${AMOUNT[unit](packs * packQuantity)} of ${name} by ${on(orderBy ?? '')}`
      : `order ${packs} ${packs === 1 ? 'pack' : 'packs'} of ${name} by ${on(orderBy ?? '')}`,
  );
  const answer =
    short.length === 0 ? 'Yes, for all that are booked or expected.' : `Not quite: ${todo.join(', and ')}.`;
  const rows = items.map((item) => {
    const show = AMOUNT[item.unit];
    const sum = (what: 'booked' | 'expected') => item.needs.reduce((total, n) => total + n[what], 0);
    const { sure, oneInTwo, oneInTen } = item.shortOn;
    const day = oneInTwo ?? oneInTen;
    const verdict = sure
      ? `out by ${on(sure)} from bookings alone`
      : day
        ? `out by ${on(day)}: ${chanceBy(item, day)}`
        : 'enough';
    const into = [...new Set(item.needs.flatMap(({ mixes }) => mixes))];
    const name = into.length > 0 ? `${item.name} (for ${into.join(', ')})` : item.name;
    return [name, show(item.onHand), show(sum('booked')), show(sum('expected')), verdict];
  });
  return section(
    'Is there enough on the shelf?',
    answer,
    table(
      [
        { head: 'material', max: 40 },
        { head: 'on hand', align: 'right' },
        { head: 'booked need', align: 'right' },
        { head: 'expected need', align: 'right' },
        { head: 'so', max: 36 },
      ],
      rows,
    ),
  );
}
