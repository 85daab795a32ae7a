import { useState } from 'preact/hooks';
import type { Schemas } from '../client';
import { useDeed } from '../deed';
import { Fault } from '../entry/field';
import type { Tell } from '../tell';
import { type Places, type Plan, readPlaces, type Workshop } from './read';

type Form = typeof import('./calendar-form').CalendarForm;
type Props = {
  me: Schemas['Me'];
  plan: Plan;
  workshop: Workshop;
  tell: Tell;
  lastCourseId: string | undefined;
  onDone(course: Schemas['Course']): Promise<void>;
};

/** The form is fetched when it is asked for: reckoning with time zones weighs as much as half of the desk. */
export function ToCalendar({ me, plan, workshop, tell, lastCourseId, onDone }: Props) {
  const [opened, setOpened] = useState<{ Form: Form; places: Places } | null>(null);
  const deed = useDeed();
  const open = () =>
    deed.run('open', async () => {
      const [{ CalendarForm }, places] = await Promise.all([fetchForm(), readPlaces(me, lastCourseId)]);
      setOpened({ Form: CalendarForm, places });
    });
  if (opened)
    return (
      <opened.Form
        {...{ plan, workshop, tell, places: opened.places }}
        onDone={async (course) => {
          await onDone(course);
          setOpened(null);
        }}
        onLeave={() => setOpened(null)}
      />
    );
  return (
    <>
      {deed.because && <Fault>{deed.because}</Fault>}
      <button type="button" onClick={open} aria-disabled={deed.busy}>
        Put it in the calendar
      </button>
    </>
  );
}

const fetchForm = () =>
  import('./calendar-form').catch(() => {
    throw new Error('The form did not come from the server. Load the page again, and look whether the server runs.');
  });
