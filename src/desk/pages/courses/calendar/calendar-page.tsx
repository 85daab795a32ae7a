import './calendar.css';
import { useCallback } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { api, Refused } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import { type At, Page } from '../../../ui/page';
import { useNarrow } from '../../../ui/use-narrow';
import { CoursesTabs } from '../courses-tabs';
import { monthNamed } from '../labels';
import { DayList } from './day-list';
import { answerOf, boundsOf, type CalendarDays, daysOf, monthIn, monthsLater } from './days';
import { MonthGrid } from './month-grid';

/** Below this width seven days beside each other leave no room for words. */
const MONTH_FITS_FROM_PX = 900;

type Read = { month: string; found: CalendarDays };

/** What is on, day by day? */
export function CalendarPage() {
  const { query } = useLocation();
  const read = useCallback(
    async (me: Me, signal: AbortSignal): Promise<Read> => {
      const month = monthIn(query.month, me.today);
      const { data } = await api.GET('/api/calendar-days', { params: { query: boundsOf(month) }, signal });
      if (!data) throw new Refused('unknown', 'The calendar could not be loaded. Load the page again.');
      return { month, found: data };
    },
    [query.month],
  );
  return (
    <Page question="Calendar" tabs={(me) => <CoursesTabs me={me} />} read={read} keep>
      {(known, at) => <Calendar {...known} asList={query.as === 'list'} {...at} />}
    </Page>
  );
}

type Props = At & Read & { asList: boolean };

function Calendar({ month, found, asList, me, formatter }: Props) {
  const isNarrow = useNarrow(MONTH_FITS_FROM_PX);
  const days = daysOf(found, formatter);
  const name = monthNamed(`${month}-01`, formatter);
  return (
    <>
      <p class="answer" role="status">
        {answerOf(found, name)}
      </p>
      <Months {...{ month, asList, today: me.today, formatter }} choosesView={!isNarrow} />
      {isNarrow || asList ? (
        <DayList {...{ days, today: me.today, formatter }} />
      ) : (
        <MonthGrid {...{ days, name, today: me.today, formatter }} />
      )}
    </>
  );
}

type MonthsProps = Pick<Props, 'month' | 'asList' | 'formatter'> & { today: string; choosesView: boolean };

/** The month before and after, this month, and the two ways in which it is shown. */
function Months({ month, asList, today, choosesView, formatter }: MonthsProps) {
  const address = (to: string, list = asList) => `/courses/calendar?month=${to}${list ? '&as=list' : ''}`;
  const link = (to: string | null) => to && <a href={address(to)}>{monthNamed(`${to}-01`, formatter)}</a>;
  return (
    <nav class="months no-paper" aria-label="Months">
      <span class="acts">
        {link(monthsLater(month, -1))}
        {month !== today.slice(0, 7) && <a href={address(today.slice(0, 7))}>This month</a>}
        {link(monthsLater(month, 1))}
      </span>
      {choosesView && (
        <span class="acts">
          <a href={address(month, false)} aria-current={asList ? undefined : 'true'}>
            Month
          </a>
          <a href={address(month, true)} aria-current={asList ? 'true' : undefined}>
            List
          </a>
        </span>
      )}
    </nav>
  );
}
