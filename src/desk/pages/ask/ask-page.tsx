import './ask.css';
import { useCallback, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { api, Refused, type Schemas } from '../../api/client';
import { useQuery } from '../../api/query';
import { count } from '../../format/formatter';
import { ErrorMessage } from '../../forms/error-message';
import { Field } from '../../forms/field';
import { Form } from '../../forms/form';
import { limitOf } from '../../forms/limits';
import { reader } from '../../forms/parse';
import { Unreadable, useForm } from '../../forms/use-form';
import { useTitle } from '../../ui/use-title';

type Course = Schemas['AskableCourse'];

/** May I come? For people who are not signed in, reached from the studio's own web page. */
export function AskPage() {
  const { courseId = '' } = useRoute().params;
  const read = useCallback(
    async (signal: AbortSignal) => {
      const { data } = await api.GET('/api/public/courses/{courseId}', { params: { path: { courseId } }, signal });
      if (!data) throw new Refused('unknown', 'The course could not be loaded. Load the page again.');
      return data;
    },
    [courseId],
  );
  const { data: course, error } = useQuery({ key: ['asked for', courseId], read });
  useTitle(course ? `Ask for a place on ${course.title}` : 'Ask for a place');
  return (
    <main class="narrow" aria-busy={!course && !error}>
      <h1>{course ? `Ask for a place on ${course.title}` : 'Ask for a place'}</h1>
      {error && <ErrorMessage>{error.message}</ErrorMessage>}
      {course && <Asking courseId={courseId} course={course} />}
    </main>
  );
}

function Asking({ courseId, course }: { courseId: string; course: Course }) {
  const [asked, setAsked] = useState<{ places: number; email: string } | null>(null);
  const { studioName, sessions, price, placesLeft } = course;
  if (asked)
    return (
      <p class="answer" role="status">
        {studioName} knows that you would like {count(asked.places, 'place')}, and will answer {asked.email}. Nothing is
        booked until then.
      </p>
    );
  return (
    <>
      <p class="answer">
        {placesLeft === 0
          ? `The course is full. Ask ${studioName} to be put on the waiting list.`
          : `${studioName} answers you, and nothing is booked until then.`}
      </p>
      <ul class="asked-sessions" aria-label="When">
        {sessions.map((session) => (
          <li key={session}>{session}</li>
        ))}
      </ul>
      <p>
        {price} for a place{placesLeft > 0 && `, ${count(placesLeft, 'place')} left`}.
      </p>
      <AskForm courseId={courseId} onAsked={setAsked} />
      <p class="quiet">
        What you write here is seen by the studio alone, to answer you, and deleted a month after the course has begun.
      </p>
    </>
  );
}

const SCHEMA = 'NewPlaceRequestInput';
const EMPTY = { name: '', email: '', phone: '', places: '1', note: '', website: '' };

function AskForm({ courseId, onAsked }: { courseId: string; onAsked(asked: { places: number; email: string }): void }) {
  const form = useForm({
    initial: EMPTY,
    schema: SCHEMA,
    send: (values, headers) =>
      api.POST('/api/public/courses/{courseId}/requests', {
        ...{ params: { path: { courseId } }, body: bodyOf(values), headers },
      }),
    onSaved: ({ places, email }) => onAsked({ places: Number(places), email: email.trim() }),
  });
  const { website } = form.values;
  return (
    <Form form={form} save="Ask for a place">
      <div class="pairs">
        <Field label="Your name" {...form.field('name')} autocomplete="name" />
        <Field label="Email" type="email" {...form.field('email')} autocomplete="email" />
        <Field label="Phone" hint="If you like" {...form.field('phone')} autocomplete="tel" />
        <Field label="Places" figures="whole" {...form.field('places')} />
      </div>
      <Field
        label="What the studio should know"
        hint="For example, who comes with you. Nothing about your health: tell that when you are answered"
        {...form.field('note')}
        wide
      />
      <div class="off-screen" aria-hidden="true">
        <input
          {...{ name: 'website', value: website, tabIndex: -1, autocomplete: 'off', 'aria-label': 'Leave this empty' }}
          onInput={({ currentTarget }) => form.set({ website: currentTarget.value })}
        />
      </div>
    </Form>
  );
}

function bodyOf({ name, email, phone, places, note, website }: typeof EMPTY) {
  const read = reader('', (pointer) => limitOf(SCHEMA, pointer));
  const body = {
    ...{ name: read.text('/name', name), email: email.trim(), phone: phone.trim() || null },
    ...{ places: read.whole('/places', places), note: note.trim() || null, website },
  };
  if (read.faults.length > 0) throw new Unreadable(read.faults);
  return body;
}
