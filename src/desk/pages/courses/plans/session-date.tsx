import { useContext } from 'preact/hooks';
import type { Formatter } from '../../../format/formatter';
import { CheckboxField } from '../../../forms/checkbox-field';
import { Faults, Field } from '../../../forms/field';
import type { When } from './calendar-dates';

type Props = {
  i: number;
  called: string;
  when: When;
  /** when its ware is ready, where it would begin before that */
  ready: string | null;
  /** why the studio is closed that day */
  closed: string | undefined;
  onClosedDay: boolean;
  /** what else is in its way */
  conflicts: readonly string[];
  formatter: Formatter;
  onWhen(when: When): void;
  onTakesPlace(takesPlace: boolean): void;
  onStrikeOut: (() => void) | undefined;
};

/** One date before it is saved: put on another day, struck out, and what is in its way. */
export function SessionDate({ i, called, when, ready, closed, onClosedDay, conflicts, formatter, ...does }: Props) {
  const at = `#/sessions/${i}/startsAt`;
  const faults = useContext(Faults);
  const { onWhen, onTakesPlace, onStrikeOut } = does;
  return (
    <>
      <div>
        <b>{called}</b>
        {onStrikeOut && (
          <button type="button" class="quiet" aria-label={`Strike out session ${i + 1}`} onClick={onStrikeOut}>
            Strike out
          </button>
        )}
      </div>
      <div class="figures broad">
        <Field
          at={at}
          label={`Session ${i + 1}, day`}
          type="date"
          value={when.day}
          hint={when.day === '' ? 'No day of the rhythm is free' : weekdayIn(when.day, formatter)}
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
      {closed !== undefined && (
        <>
          <p class="amber" role="status">
            The studio is closed that day ({closed}).
          </p>
          <CheckboxField checked={onClosedDay} onChange={onTakesPlace}>
            It takes place all the same
          </CheckboxField>
        </>
      )}
      {conflicts.map((detail) => (
        <p key={detail} class="amber" role="status">
          {detail}
        </p>
      ))}
    </>
  );
}

/** "Tuesday"; nothing of a day that is only half typed. */
const weekdayIn = (day: string, { longDay }: Formatter): string | undefined =>
  /^\d{4}-\d{2}-\d{2}$/.test(day) && !Number.isNaN(Date.parse(day)) ? longDay(day).split(/[ ,]/)[0] : undefined;
