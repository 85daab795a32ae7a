import { useCallback, useState } from 'preact/hooks';
import type { Schemas } from '../../../api/client';
import { useOpened } from '../../../api/query';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { type Plan, readPlaces, type Workshop } from './queries';

type Props = {
  me: Schemas['Me'];
  plan: Plan;
  workshop: Workshop;
  formatter: Formatter;
  lastCourseId: string | undefined;
  onDone(courses: Schemas['Course'][]): void;
};

/** The form is fetched when it is asked for: reckoning with time zones weighs as much as half of the desk. */
export function ToCalendar(props: Props) {
  const [isOpen, setOpen] = useState(false);
  if (isOpen) return <OpenedForm {...props} onLeave={() => setOpen(false)} />;
  return (
    <button type="button" onClick={() => setOpen(true)}>
      Put it in the calendar
    </button>
  );
}

type FormProps = Props & { onLeave(): void };

function OpenedForm({ me, plan, workshop, formatter, lastCourseId, onDone, onLeave }: FormProps) {
  const read = useCallback(async () => {
    const [{ CalendarForm }, places] = await Promise.all([fetchForm(), readPlaces(me, lastCourseId)]);
    return { Form: CalendarForm, places };
  }, [plan.id]); // the last course is the one before this form was opened, also once it is sent
  const { opened, error, refetch } = useOpened({ key: ['places for', plan.id], read });
  if (opened)
    return (
      <opened.Form
        {...{ plan, workshop, formatter, places: opened.places }}
        onDone={(courses) => {
          onDone(courses);
          onLeave();
        }}
        onLeave={onLeave}
      />
    );
  if (!error) return <p class="quiet">Opening the calendar.</p>;
  return (
    <>
      <ErrorMessage>{error.message}</ErrorMessage>
      <button type="button" onClick={refetch}>
        Put it in the calendar
      </button>
    </>
  );
}

const fetchForm = () =>
  import('./schedule-form').catch(() => {
    throw new Error('The form did not come from the server. Load the page again, and look whether the server runs.');
  });
