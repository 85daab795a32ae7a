import { useRef } from 'preact/hooks';
import { api } from '../../api/client';
import { Field } from '../../forms/field';
import { Form } from '../../forms/form';
import { useForm } from '../../forms/use-form';
import { bodyOf, type Person, valuesOf } from './person-values';

export type PersonAt = { person: Person; etag: string };

type Props = { of: PersonAt | null; onSaved(person: Person): void; onCancel(): void };

/** Somebody new, or what is known of somebody, to change. */
export function PersonForm({ of, onSaved, onCancel }: Props) {
  const saved = useRef<Person | null>(null);
  const form = useForm({
    initial: valuesOf(of?.person ?? null),
    schema: 'NewPersonInput',
    send: async (values, headers) => {
      const body = bodyOf(values);
      const { data } = of
        ? await api.PUT('/api/people/{personId}', {
            ...{ params: { path: { personId: of.person.id } }, body },
            headers: { ...headers, 'if-match': of.etag },
          })
        : await api.POST('/api/people', { body, headers });
      saved.current = data as Person;
    },
    onSaved: () => saved.current && onSaved(saved.current),
  });
  return (
    <div class="raised">
      <h2>{of ? `Change ${of.person.name}` : 'Add a person'}</h2>
      <Form form={form} save={of ? 'Save' : 'Add this person'} onCancel={onCancel}>
        <div class="pairs">
          <Field label="Name" hint="As they write it, in any script" {...form.field('name')} />
          <Field
            label="Name on papers"
            hint="Only if papers can’t print the name: in Latin, Greek or Cyrillic letters"
            {...form.field('paperName')}
          />
          <Field label="Email" type="email" {...form.field('email')} />
          <Field label="Phone" {...form.field('phone')} />
          <Field label="Address" lines {...form.field('addressLines')} maxLength={undefined} />
          <Field label="Member since" type="date" {...form.field('memberSince')} />
          <Field
            label="Age"
            choices={[
              ['', 'Grown up'],
              ['child', 'A child: a guardian answers for them'],
            ]}
            {...form.field('isChild')}
            required={false}
          />
          <Field label="Wishes" hint="For example, Tuesday evenings, or raku" lines {...form.field('wishes')} />
          <Field
            label="Note for the studio"
            hint="Tutors see it too. Health and access have a note of their own on the page."
            lines
            {...form.field('note')}
          />
        </div>
      </Form>
    </div>
  );
}
