import { useState } from 'preact/hooks';
import { api } from '../api/client';
import { useMutation } from '../api/use-mutation';
import type { Formatter } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { Field } from '../forms/field';
import { limitOf } from '../forms/limits';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { BookPlace } from './book-place';

type Props = { course: { courseId: string; title: string }; formatter: Formatter };

/** Gives a full course one place more than was planned; the reason goes into its history. */
export function ExtraPlace({ course, formatter }: Props) {
  return (
    <DialogButton label="One more place" about={`on ${course.title}`} title={`One more place on ${course.title}`}>
      {(close) => <ExtraPlaceForm {...{ course, formatter }} onClose={close} />}
    </DialogButton>
  );
}

function ExtraPlaceForm({ course, formatter, onClose }: Props & { onClose(): void }) {
  const [reason, setReason] = useState('');
  const mutation = useMutation({ thenRead: true });
  const params = { path: { courseId: course.courseId } };
  const add = async () => {
    const body = { reason: reason.trim() };
    const done = await mutation.run(body, (headers) =>
      api.POST('/api/courses/{courseId}/extra-places', { params, body, headers }),
    );
    if (!done) return;
    onClose();
    toast(
      <>
        <span>{course.title} has one more place.</span>
        <BookPlace course={course} formatter={formatter} />
      </>,
    );
  };
  return (
    <>
      <p>
        The course is full. One more place is one more than you planned: it needs a free bench in each session to come,
        and more clay, glaze and kiln than its price was worked out for.
      </p>
      <Field
        label="Why"
        hint="For example, her sister comes too. It goes into the history of the course"
        value={reason}
        onChange={setReason}
        maxLength={limitOf('NewExtraPlaceInput', '#/reason').maxLength}
        wide
      />
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <p class="acts">
        <button type="button" aria-disabled={mutation.busy || reason.trim() === ''} onClick={add}>
          Add one place
        </button>
        <button type="button" class="quiet" onClick={onClose}>
          Cancel
        </button>
      </p>
    </>
  );
}
