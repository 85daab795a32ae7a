import type { Formatter } from '../../../format/formatter';
import { DayItems } from './day-items';
import { type Day, weekdayOf } from './days';

type Props = { days: readonly Day[]; name: string; today: string; formatter: Formatter };

/** A month: each week is a board, on which its seven days have their room. */
export function MonthGrid({ days, name, today, formatter }: Props) {
  const weekdays = days.slice(0, 7).sort((a, b) => weekdayOf(a.day) - weekdayOf(b.day));
  const before = weekdayOf(days[0]?.day ?? today);
  return (
    <section aria-label={name}>
      <div class="weekdays" aria-hidden="true">
        {weekdays.map(({ day }) => (
          <span key={day}>{formatter.longDay(day).split(' ')[0]?.replace(',', '')}</span>
        ))}
      </div>
      <ol class="month-days">
        <Blank days={before} />
        {days.map((of) => (
          <li key={of.day} class={classOf(of, today)}>
            <h2>
              <time dateTime={of.day} aria-current={of.day === today ? 'date' : undefined}>
                <span aria-hidden="true">{Number(of.day.slice(8))}</span>
                <span class="heard">{formatter.longDay(of.day)}</span>
              </time>
              {of.day === today && <span> today</span>}
            </h2>
            <DayItems {...{ of, today, formatter }} />
          </li>
        ))}
        <Blank days={6 - weekdayOf(days.at(-1)?.day ?? today)} />
      </ol>
    </section>
  );
}

function classOf({ day, closed }: Day, today: string): string | undefined {
  const when = day === today ? 'is-today' : day < today ? 'is-past' : '';
  return `${when}${closed.length > 0 ? ' is-closed' : ''}` || undefined;
}

/** Days of a week that are of another month. */
const Blank = ({ days }: { days: number }) =>
  days > 0 ? <li aria-hidden="true" style={{ gridColumnEnd: `span ${days}` }} /> : null;
