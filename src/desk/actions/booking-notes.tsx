import { useState } from 'preact/hooks';
import { api, type Schemas } from '../api/client';
import { useMutation } from '../api/use-mutation';
import { ErrorMessage } from '../forms/error-message';
import { Field } from '../forms/field';
import { limitOf } from '../forms/limits';

export type BookingNote = Schemas['BookingNote'];

export async function listBookingNotes(courseId: string, signal: AbortSignal): Promise<BookingNote[]> {
  const params = { path: { courseId } };
  return (await api.GET('/api/courses/{courseId}/booking-notes', { params, signal })).data?.items ?? [];
}

type Props = { bookingId: string; onNoted(): void; onCancel(): void };

/** Notes something of a booking, for the studio alone. */
export function AddBookingNote({ bookingId, onNoted, onCancel }: Props) {
  const [note, setNote] = useState('');
  const mutation = useMutation();
  const add = async () => {
    const body = { note: note.trim() };
    const params = { path: { bookingId } };
    if (await mutation.run(body, (headers) => api.POST('/api/bookings/{bookingId}/notes', { params, body, headers })))
      onNoted();
  };
  return (
    <>
      <Field
        label="Note for you"
        hint="No letter says it. Health and access are noted on the person’s page, where fewer people see them"
        value={note}
        onChange={setNote}
        maxLength={limitOf('NewBookingNoteInput', '#/note').maxLength}
        wide
      />
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <p class="acts">
        <button type="button" aria-disabled={mutation.busy || note.trim() === ''} onClick={add}>
          Add this note
        </button>
        <button type="button" class="quiet" onClick={onCancel}>
          Cancel
        </button>
      </p>
    </>
  );
}
