import { api, type Schemas } from '../../api/client';
import { Field } from '../../forms/field';
import { Form } from '../../forms/form';
import { useForm } from '../../forms/use-form';

export type Person = Schemas['Person'];
export type PersonAt = { person: Person; etag: string };

/** The fields as text; a person who is not known yet has none. */
export const valuesOf = (person: Person | null) => ({
  name: person?.name ?? '',
  paperName: person?.paperName ?? '',
  email: person?.email ?? '',
  phone: person?.phone ?? '',
  addressLines: person?.addressLines.join('\n') ?? '',
  memberSince: person?.memberSince ?? '',
});

/** What is sent of them: an empty field says nothing, and each line of the address is one of its lines on paper. */
export function bodyOf(values: ReturnType<typeof valuesOf>) {
  const said = (text: string) => text.trim() || null;
  return {
    name: values.name.trim(),
    paperName: said(values.paperName),
    email: said(values.email),
    phone: said(values.phone),
    addressLines: values.addressLines
      .split('\n')
      .map((line) => line.trim())
      .filter(Boolean),
    memberSince: said(values.memberSince),
  };
}

type Props = { of: PersonAt | null; onSaved(person: Person): void; onCancel(): void };

/** Somebody new, or what is known of somebody, to change. */
export function PersonForm({ of, onSaved, onCancel }: Props) {
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
      onSaved(data as Person);
    },
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
        </div>
      </Form>
    </div>
  );
}
