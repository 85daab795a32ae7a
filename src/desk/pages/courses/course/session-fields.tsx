import type { ComponentChildren } from 'preact';
import { useCallback } from 'preact/hooks';
import { api, Refused, type Schemas } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { CheckboxField } from '../../../forms/checkbox-field';
import { LookedUp } from '../../../ui/looked-up';

export type Choices = { rooms: Schemas['Room'][]; staff: Schemas['StaffMember'][]; closures: Schemas['Closure'][] };

/** What is inside chooses among the rooms and who may teach, once they are read. */
export function RoomsAndStaff({ children }: { children(choices: Choices): ComponentChildren }) {
  const read = useCallback(async (signal: AbortSignal): Promise<Choices> => {
    const [rooms, staff, closures] = await Promise.all([
      api.GET('/api/rooms', { signal }),
      api.GET('/api/staff', { signal }),
      api.GET('/api/closures', { signal }),
    ]);
    if (!rooms.data || !staff.data || !closures.data)
      throw new Refused('unknown', 'The rooms could not be loaded. Close this and open it again.');
    return { rooms: rooms.data.items, staff: staff.data.items, closures: closures.data.items };
  }, []);
  const query = useQuery({ key: ['rooms and staff'], read });
  return (
    <LookedUp what="rooms and tutors" query={query}>
      {(choices) => children(choices)}
    </LookedUp>
  );
}

export const roomChoices = (rooms: Choices['rooms']) =>
  rooms.map(({ id, name, benches }) => [id, `${name}, ${benches} benches`] as const);

type TutorsProps = {
  staff: Choices['staff'];
  tutorIds: readonly string[];
  onChange(tutorIds: readonly string[]): void;
};

export const Tutors = ({ staff, tutorIds, onChange }: TutorsProps) => (
  <fieldset>
    <legend>Who teaches</legend>
    {staff.map(({ id, name }) => (
      <CheckboxField
        key={id}
        checked={tutorIds.includes(id)}
        onChange={(checked) => onChange(checked ? [...tutorIds, id] : tutorIds.filter((one) => one !== id))}
      >
        {name}
      </CheckboxField>
    ))}
  </fieldset>
);

type ClosedProps = { closures: Choices['closures']; day: string; checked: boolean; onChange(checked: boolean): void };

/** Where the studio is closed on a day: why, and the way to say that the session takes place all the same. */
export function ClosedDay({ closures, day, checked, onChange }: ClosedProps) {
  const closed = closures.find(({ from, to }) => from <= day && day <= to);
  if (!closed) return null;
  return (
    <>
      <p class="amber">The studio is closed that day ({closed.name}).</p>
      <CheckboxField {...{ checked, onChange }}>It takes place all the same</CheckboxField>
    </>
  );
}
