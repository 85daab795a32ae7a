import { useState } from 'preact/hooks';
import { addDays } from '../../../../trade/calendar/calendar.js';
import { weekdayOf } from '../../../../trade/calendar/series.js';
import { capital, type Formatter } from '../../../format/formatter';
import { CheckboxField } from '../../../forms/checkbox-field';
import { Field } from '../../../forms/field';
import {
  earliest,
  leftOut,
  minutesAt,
  type Paced,
  proposed,
  type Rhythm,
  timesOf,
  type When,
  whenOf,
} from './calendar-dates';
import { type CourseDraft, sessionsOf } from './course-request-body';
import { timeInWords } from './labels';
import type { Places, Plan } from './queries';
import { named } from './recipe-fields';
import { SessionDate } from './session-date';
import { useConflicts } from './use-conflicts';

type Props = {
  draft: CourseDraft;
  set(change: Partial<CourseDraft>): void;
  paced: Paced;
  plan: Plan;
  places: Places;
  formatter: Formatter;
};

const EVERY = [
  ['1', 'every week'],
  ['2', 'every two weeks'],
] as const;
const MONDAY = '1970-01-05';
const COURSES_MAX = 60;

/** What is said of the days of a series; no weekday means that of the first day. */
type Said = {
  first: When;
  weekdays: readonly number[];
  every: string;
  many: string;
  until: string;
  out: readonly string[];
};

const rhythmOf = ({ first, weekdays, every, until }: Said): Rhythm => ({
  weekdays: weekdays.length > 0 || first.day === '' ? weekdays : [weekdayOf(first.day)],
  everyWeeks: Number(every),
  ...(until !== '' && { until }),
});

/** How many dates are wanted: a session each of the plan; of a plan with one, a course each. */
const countOf = ({ many, until }: Said, plan: Plan): number => {
  if (plan.sessions.length > 1) return plan.sessions.length;
  const wanted = Number(many.trim() || (until === '' ? 1 : COURSES_MAX));
  return Number.isInteger(wanted) && wanted > 0 ? Math.min(wanted, COURSES_MAX) : 1;
};

/** The first day and a rhythm propose a day for each session; each can then be struck out, or put on another day. */
export function SessionDates({ draft, set, paced, plan, places, formatter }: Props) {
  const [said, setSaid] = useState<Said>(() => ({
    first: { day: '', time: usualTime(places, paced) },
    ...{ weekdays: [], every: '1', many: '', until: '', out: [] },
  }));
  const closedOn = (day: string) => closureOn(places, day);
  /** Dates before `keep` stay as they were put. */
  const propose = (change: Partial<Said>, onClosedDays = draft.onClosedDays, keep = 0) => {
    const now = { ...said, ...change };
    setSaid(now);
    if (!timesOf(now.first, 0, paced.timeZone)) return;
    const isOut = (day: string) =>
      now.out.includes(day) || (closedOn(day) !== undefined && !onClosedDays.includes(day));
    const rhythm = rhythmOf(now);
    const kept = draft.dates.slice(0, keep);
    const after = kept.at(-1)?.day ?? '';
    const fresh = proposed(paced, now.first, rhythm, countOf(now, plan), isOut);
    const dates = [...kept, ...fresh.filter(({ day }) => day === '' || day > after)].slice(0, countOf(now, plan));
    set({ dates, onClosedDays });
  };
  const strikeOut = (day: string, i: number) => propose({ out: [...said.out, day] }, draft.onClosedDays, i);
  const isSeries = plan.sessions.length === 1;
  return (
    <fieldset>
      <legend>When and where</legend>
      <RhythmFields {...{ said, propose, plan, isSeries }} />
      <WhereAndWho {...{ draft, set, places }} />
      <Dates
        {...{ draft, set, paced, plan, places, formatter }}
        onStrikeOut={said.first.day === '' ? undefined : strikeOut}
      />
      <LeftOut
        days={leftOut(
          draft.dates,
          rhythmOf(said),
          said.first.day,
          (day) => said.out.includes(day) || closedOn(day) !== undefined,
        )}
        nameOf={(day) => closedOn(day)?.name}
        formatter={formatter}
        onUse={(day) =>
          propose(
            { out: said.out.filter((one) => one !== day) },
            closedOn(day) ? changed(draft.onClosedDays, day, true) : draft.onClosedDays,
          )
        }
      />
    </fieldset>
  );
}

const closureOn = ({ closures }: Places, day: string) => closures.find(({ from, to }) => from <= day && day <= to);

type DatesProps = Props & { onStrikeOut: ((day: string, i: number) => void) | undefined };

/** The dates before they are saved, each with what is in its way. */
function Dates({ draft, set, paced, plan, places, formatter, onStrikeOut }: DatesProps) {
  const times = draft.dates.map((when, i) => timesOf(when, minutesAt(paced, i), paced.timeZone));
  const { conflicts, ofAll } = useConflicts(plan, draft, sessionsOf(draft, paced));
  return (
    <>
      {ofAll.map((detail) => (
        <p key={detail} class="amber" role="status">
          {detail}
        </p>
      ))}
      {times.some((one) => one !== null) && (
        <ol class="dates">
          {draft.dates.map((when, i) => (
            <li key={i}>
              <SessionDate
                {...{ i, when, formatter }}
                called={calledAt(plan, i)}
                ready={tooSoon(paced, times, i)}
                closed={closureOn(places, when.day)?.name}
                onClosedDay={draft.onClosedDays.includes(when.day)}
                conflicts={conflicts[i] ?? []}
                onWhen={(to) => set({ dates: draft.dates.map((one, at) => (at === i ? to : one)) })}
                onTakesPlace={(takesPlace) => set({ onClosedDays: changed(draft.onClosedDays, when.day, takesPlace) })}
                onStrikeOut={onStrikeOut && when.day !== '' ? () => onStrikeOut(when.day, i) : undefined}
              />
            </li>
          ))}
        </ol>
      )}
    </>
  );
}

const changed = (days: readonly string[], day: string, has: boolean): string[] =>
  has ? [...days, day] : days.filter((one) => one !== day);

function calledAt(plan: Plan, i: number): string {
  const { purpose = 'making', minutes = 0 } = plan.sessions[i] ?? plan.sessions[0] ?? {};
  return `${capital(purpose)}, ${timeInWords(minutes)}`;
}

type RhythmProps = { said: Said; propose(change: Partial<Said>): void; plan: Plan; isSeries: boolean };

function RhythmFields({ said, propose, plan, isSeries }: RhythmProps) {
  const { first, weekdays, every, many, until } = said;
  const shown = rhythmOf(said).weekdays;
  return (
    <>
      <div class="figures broad">
        <Field
          label="First day"
          type="date"
          value={first.day}
          onChange={(day) => propose({ first: { ...first, day } })}
        />
        <Field
          label="Begins at"
          type="time"
          value={first.time}
          onChange={(time) => propose({ first: { ...first, time } })}
        />
        {(plan.sessions.length > 1 || isSeries) && (
          <Field at="#/rhythm" label="Then" value={every} choices={EVERY} onChange={(to) => propose({ every: to })} />
        )}
        {isSeries && (
          <>
            <Field
              at="#/many"
              label="How often"
              value={many}
              hint={`A course each, ${COURSES_MAX} at most`}
              onChange={(to) => propose({ many: to })}
              figures
            />
            <Field
              at="#/until"
              label="Until"
              type="date"
              value={until}
              hint="The last day it may be on"
              onChange={(day) => propose({ until: day })}
            />
          </>
        )}
      </div>
      <fieldset class="weekdays-chosen">
        <legend>On</legend>
        <div class="picks">
          {WEEKDAYS.map(([number, name]) => (
            <CheckboxField
              key={number}
              checked={shown.includes(number)}
              onChange={(checked) =>
                propose({ weekdays: checked ? [...shown, number] : shown.filter((one) => one !== number) })
              }
            >
              {name}
            </CheckboxField>
          ))}
        </div>
        {weekdays.length === 0 && first.day === '' && (
          <p class="quiet">The weekday of the first day, if none is ticked.</p>
        )}
      </fieldset>
    </>
  );
}

const WEEKDAYS = Array.from({ length: 7 }, (_, i) => {
  const day = new Date(`${addDays(MONDAY, i)}T12:00:00Z`);
  return [i + 1, new Intl.DateTimeFormat('en-GB', { weekday: 'long', timeZone: 'UTC' }).format(day)] as const;
});

function WhereAndWho({ draft, set, places }: Pick<Props, 'draft' | 'set' | 'places'>) {
  return (
    <div class="figures broad">
      <Field
        at="#/roomId"
        label="Room"
        value={draft.roomId}
        choices={[
          ['', 'Choose'],
          ...places.rooms.map(({ id, name, benches }) => [id, `${name}, ${benches} benches`] as const),
        ]}
        onChange={(roomId) => set({ roomId })}
      />
      {places.staff.length > 0 && (
        <Field
          at="#/tutorId"
          label="Who teaches"
          value={draft.tutorId}
          choices={[['', 'not said yet'], ...named(places.staff)]}
          onChange={(tutorId) => set({ tutorId })}
        />
      )}
    </div>
  );
}

type LeftOutProps = {
  days: readonly string[];
  nameOf(day: string): string | undefined;
  formatter: Formatter;
  onUse(day: string): void;
};

/** The days of the rhythm on which nothing is planned, each with the way to plan it all the same. */
function LeftOut({ days, nameOf, formatter, onUse }: LeftOutProps) {
  if (days.length === 0) return null;
  return (
    <ul class="left-out" aria-label="Left out">
      {days.map((day) => {
        const name = nameOf(day);
        return (
          <li key={day}>
            Left out: {formatter.longDay(day)}
            {name !== undefined && `, closed (${name})`}
            <button type="button" class="quiet" aria-label={`Use ${formatter.longDay(day)}`} onClick={() => onUse(day)}>
              Use it
            </button>
          </li>
        );
      })}
    </ul>
  );
}

/** At the hour of the last course of the plan. */
function usualTime({ last }: Places, { timeZone }: Paced): string {
  const [first] = last?.sessions ?? [];
  return first ? whenOf(first.startsAt, timeZone).time : '19:00';
}

/** When the ware of before is ready, where a session begins before that. */
function tooSoon(paced: Paced, times: ReturnType<typeof timesOf>[], i: number): string | null {
  const [ready, own] = [earliest(paced, times, i), times[i]];
  return ready && own && own.startsAt < ready ? ready : null;
}
