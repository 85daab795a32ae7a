import { count, type Formatter } from '../../../format/formatter';
import { DayItems } from './day-items';
import type { Day } from './days';

type Props = { days: readonly Day[]; today: string; formatter: Formatter };

/** The days on which something is planned, under one another; those of this month that are over begin closed. */
export function DayList({ days, today, formatter }: Props) {
  const shown = days.filter(({ day, ...of }) => day === today || hasSomething({ day, ...of }));
  const isThisMonth = days.some(({ day }) => day === today);
  const over = isThisMonth ? shown.filter(({ day }) => day < today) : [];
  const rest = shown.slice(over.length);
  return (
    <>
      {over.length > 0 && (
        <details>
          <summary>Earlier this month: {count(over.length, 'day')}</summary>
          <Days {...{ today, formatter }} days={over} />
        </details>
      )}
      <Days {...{ today, formatter }} days={rest} />
    </>
  );
}

const hasSomething = ({ sessions, kilns, closed }: Day) => sessions.length + kilns.length + closed.length > 0;

const Days = ({ days, today, formatter }: Props) => (
  <ol class="day-list">
    {days.map((of) => (
      <li key={of.day} class={of.day === today ? 'is-today' : undefined}>
        <h2>
          <time dateTime={of.day} aria-current={of.day === today ? 'date' : undefined}>
            {formatter.longDay(of.day)}
          </time>
          {of.day === today && <span> today</span>}
        </h2>
        {hasSomething(of) ? <DayItems {...{ of, today, formatter }} /> : <p class="quiet">Nothing is planned.</p>}
      </li>
    ))}
  </ol>
);
