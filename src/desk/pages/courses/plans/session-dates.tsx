import { useContext, useState } from 'preact/hooks';
import { capital, type Formatter } from '../../../format/formatter';
import { Faults, Field } from '../../../forms/field';
import { earliest, type Paced, proposed, timesOf, type When, whenOf } from './calendar-dates';
import type { CourseDraft } from './course-request-body';
import { timeInWords } from './labels';
import type { Places, Plan } from './queries';
import { named } from './recipe-fields';

type Props = {
  draft: CourseDraft;
  set(change: Partial<CourseDraft>): void;
  paced: Paced;
  plan: Plan;
  places: Places;
  formatter: Formatter;
};

const RHYTHMS = [
  ['7', 'every week'],
  ['14', 'every two weeks'],
  ['1', 'every day'],
] as const;

/** The first day and a rhythm propose a day for each session; each can then be put where it shall be. */
export function SessionDates({ draft, set, paced, plan, places, formatter }: Props) {
  const [first, setFirst] = useState<When>(() => ({ day: '', time: usualTime(places, paced) }));
  const [rhythm, setRhythm] = useState<(typeof RHYTHMS)[number][0]>('7');
  const propose = (change: Partial<When>, every = rhythm) => {
    const begins = { ...first, ...change };
    setFirst(begins);
    setRhythm(every);
    if (timesOf(begins, 0, paced.timeZone)) set({ dates: proposed(paced, begins, Number(every)) });
  };
  const times = draft.dates.map((when, i) => timesOf(when, paced.minutes[i] ?? 0, paced.timeZone));
  return (
    <fieldset>
      <legend>When and where</legend>
      <div class="figures broad">
        <Field label="First day" type="date" value={first.day} onChange={(day) => propose({ day })} />
        <Field label="Begins at" type="time" value={first.time} onChange={(time) => propose({ time })} />
        {plan.sessions.length > 1 && (
          <Field at="#/rhythm" label="Then" value={rhythm} choices={RHYTHMS} onChange={(every) => propose({}, every)} />
        )}
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
      {times.some((one) => one !== null) && (
        <ol class="dates">
          {plan.sessions.map(({ purpose, minutes }, i) => (
            <li key={`${i} ${purpose}`}>
              <SessionDate
                {...{ i, formatter }}
                called={`${capital(purpose)}, ${timeInWords(minutes)}`}
                when={draft.dates[i] ?? { day: '', time: '' }}
                ready={tooSoon(paced, times, i)}
                onWhen={(when) => set({ dates: draft.dates.map((one, at) => (at === i ? when : one)) })}
              />
            </li>
          ))}
        </ol>
      )}
    </fieldset>
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

type DateProps = {
  i: number;
  called: string;
  when: When;
  ready: string | null;
  formatter: Formatter;
  onWhen(when: When): void;
};

function SessionDate({ i, called, when, ready, formatter, onWhen }: DateProps) {
  const at = `#/sessions/${i}/startsAt`;
  const faults = useContext(Faults);
  return (
    <>
      <b>{called}</b>
      <div class="figures broad">
        <Field
          at={at}
          label={`Session ${i + 1}, day`}
          type="date"
          value={when.day}
          fault={faults.get(at) ?? faults.get(`#/sessions/${i}`)}
          onChange={(day) => onWhen({ ...when, day })}
        />
        <Field
          label={`Session ${i + 1}, time`}
          type="time"
          value={when.time}
          onChange={(time) => onWhen({ ...when, time })}
        />
      </div>
      {ready && (
        <p class="amber" role="status">
          Too soon: its ware is dry, fired and cold by {formatter.longDay(formatter.dayOf(ready))},{' '}
          {formatter.time(ready)} at the earliest.
        </p>
      )}
    </>
  );
}
