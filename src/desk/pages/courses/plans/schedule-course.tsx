import { useState } from 'preact/hooks';
import type { Schemas } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { type Places, type Plan, readPlaces, type Workshop } from './queries';

type Form = typeof import('./schedule-form').CalendarForm;
type Props = {
  me: Schemas['Me'];
  plan: Plan;
  workshop: Workshop;
  formatter: Formatter;
  lastCourseId: string | undefined;
  onDone(course: Schemas['Course']): Promise<void>;
};

/** The form is fetched when it is asked for: reckoning with time zones weighs as much as half of the desk. */
export function ToCalendar({ me, plan, workshop, formatter, lastCourseId, onDone }: Props) {
  const [opened, setOpened] = useState<{ Form: Form; places: Places } | null>(null);
  const deed = useMutation();
  const open = () =>
    deed.run('open', async () => {
      const [{ CalendarForm }, places] = await Promise.all([fetchForm(), readPlaces(me, lastCourseId)]);
      setOpened({ Form: CalendarForm, places });
    });
  if (opened)
    return (
      <opened.Form
        {...{ plan, workshop, formatter, places: opened.places }}
        onDone={async (course) => {
          await onDone(course);
          setOpened(null);
        }}
        onLeave={() => setOpened(null)}
      />
    );
  return (
    <>
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <button type="button" onClick={open} aria-disabled={deed.busy}>
        Put it in the calendar
      </button>
    </>
  );
}

const fetchForm = () =>
  import('./schedule-form').catch(() => {
    throw new Error('The form did not come from the server. Load the page again, and look whether the server runs.');
  });
