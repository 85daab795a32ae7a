import { useCallback } from 'preact/hooks';
import { api, Refused, type Schemas } from '../../../api/client';
import { useOpened } from '../../../api/query';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { limitOf } from '../../../forms/limits';
import { reader } from '../../../forms/parse';
import { Unreadable, useForm } from '../../../forms/use-form';
import { DialogButton } from '../../../ui/dialog';
import { LookedUp } from '../../../ui/looked-up';

type Particulars = Schemas['CourseParticulars'];
type Opened = { particulars: Particulars; etag: string };
type Props = { course: { id: string; title: string } };

/** Changes what a course is called, says and offers. */
export function EditCourse({ course }: Props) {
  return (
    <DialogButton label="Edit course" title={`Edit ${course.title}`}>
      {(close) => <Reading courseId={course.id} onClose={close} />}
    </DialogButton>
  );
}

function Reading({ courseId, onClose }: { courseId: string; onClose(): void }) {
  const read = useCallback(
    async (signal: AbortSignal): Promise<Opened> => {
      const { data, response } = await api.GET('/api/courses/{courseId}/particulars', {
        params: { path: { courseId } },
        signal,
      });
      if (!data) throw new Refused('unknown', 'The course could not be loaded. Close this and open it again.');
      return { particulars: data, etag: response.headers.get('etag') ?? '' };
    },
    [courseId],
  );
  const { opened, error } = useOpened({ key: ['particulars', courseId], read });
  return (
    <LookedUp what="the course" query={{ data: opened, error }}>
      {(found) => <Editing courseId={courseId} {...found} onClose={onClose} />}
    </LookedUp>
  );
}

function Editing({ courseId, particulars, etag, onClose }: Opened & { courseId: string; onClose(): void }) {
  const form = useForm({
    initial: {
      title: particulars.title,
      places: String(particulars.places),
      minimum: String(particulars.minimum),
      decideOn: particulars.decideOn ?? '',
      note: particulars.note ?? '',
    },
    schema: 'CourseParticularsInput',
    send: async (values, headers) =>
      api.PUT('/api/courses/{courseId}/particulars', {
        ...{ params: { path: { courseId } }, body: bodyOf(values) },
        headers: { ...headers, 'if-match': etag },
      }),
    onSaved: onClose,
  });
  return (
    <Form form={form} save="Save" onCancel={onClose}>
      <Field label="Title" {...form.field('title')} />
      <div class="pairs">
        <Field label="Places" figures="whole" {...form.field('places')} />
        <Field label="Minimum students" figures="whole" {...form.field('minimum')} />
        {particulars.minimum > 0 && (
          <Field
            label="Decide by"
            hint="Whether it takes place; left empty: a week before"
            type="date"
            {...form.field('decideOn')}
            required={false}
          />
        )}
      </div>
      <Field
        label="Note for students"
        hint="Letters about bookings say it too"
        lines
        {...form.field('note')}
        required={false}
      />
    </Form>
  );
}

type Values = { title: string; places: string; minimum: string; decideOn: string; note: string };

function bodyOf(values: Values): Particulars {
  const { text, whole, faults } = reader('', (pointer) => limitOf('CourseParticularsInput', pointer));
  const body = {
    title: text('/title', values.title),
    places: whole('/places', values.places),
    minimum: whole('/minimum', values.minimum),
    decideOn: values.decideOn || null,
    note: values.note.trim() || null,
  };
  if (faults.length > 0) throw new Unreadable(faults);
  return body;
}
