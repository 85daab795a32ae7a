import { useContext, useState } from 'preact/hooks';
import { capital, type Formatter } from '../../../format/formatter';
import { Faults, Field, idOf } from '../../../forms/field';
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
  const propose = (change: Partial<When>, fetchAllPages = rhythm) => {
    const begins = { ...first, ...change };
    setFirst(begins);
    setRhythm(fetchAllPages);
    if (timesOf(begins, 0, paced.timeZone)) set({ dates: proposed(paced, begins, Number(fetchAllPages)) });
  };
  const times = draft.dates.map((when, i) => timesOf(when, paced.minutes[i] ?? 0, paced.timeZone));
  return (
    <fieldset>
      <legend>When and where</legend>
      <div class="figures broad">
        <Moment label="First day" type="date" id="first-day" value={first.day} onType={(day) => propose({ day })} />
        <Moment label="Begins at" type="time" id="first-time" value={first.time} onType={(time) => propose({ time })} />
        {plan.sessions.length > 1 && (
          <Field
            at="#/rhythm"
            label="Then"
            value={rhythm}
            choices={RHYTHMS}
            onChange={(fetchAllPages) => propose({}, fetchAllPages)}
          />
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
  const fault = faults.get(at) ?? faults.get(`#/sessions/${i}`);
  return (
    <>
      <b>{called}</b>
      <div class="figures broad">
        <Moment
          label={`Session ${i + 1}, day`}
          type="date"
          id={idOf(at)}
          value={when.day}
          onType={(day) => onWhen({ ...when, day })}
        />
        <Moment
          label={`Session ${i + 1}, time`}
          type="time"
          id={`${idOf(at)}-time`}
          value={when.time}
          onType={(time) => onWhen({ ...when, time })}
        />
      </div>
      {fault && <p class="iron">{fault}</p>}
      {ready && (
        <p class="amber" role="status">
          Too soon: its ware is dry, fired and cold by {formatter.longDay(formatter.dayOf(ready))},{' '}
          {formatter.time(ready)} at the earliest.
        </p>
      )}
    </>
  );
}

type MomentProps = { label: string; type: 'date' | 'time'; id: string; value: string; onType(typed: string): void };

function Moment({ label, type, id, value, onType }: MomentProps) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input id={id} type={type} value={value} onInput={({ currentTarget }) => onType(currentTarget.value)} />
    </div>
  );
}
