import { api } from '../../../api/client';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { useForm } from '../../../forms/use-form';
import type { StaffEntry } from './deed';
import { ROLES } from './labels';

type Role = (typeof ROLES)[number][0];

/** Name, address and role. What they may do changes with their next click. */
export function ChangeForm({ member, onDone }: { member: StaffEntry; onDone(): void }) {
  const { name, email, role } = member;
  const params = { path: { staffMemberId: member.id } };
  const form = useForm<{ name: string; email: string; role: Role }>({
    initial: { name, email, role },
    schema: 'NewStaffMemberInput',
    send: async (body, headers) => {
      const { response } = await api.GET('/api/staff/{staffMemberId}', { params });
      const asRead = { 'if-match': response.headers.get('etag') ?? '' };
      await api.PUT('/api/staff/{staffMemberId}', { params, body, headers: { ...headers, ...asRead } });
    },
    onSaved: onDone,
  });
  return (
    <section aria-label={`Change ${name}`}>
      <h2>Change {name}</h2>
      <Form form={form} save="Save" onCancel={onDone}>
        <Field label="Name" {...form.field('name')} />
        <Field
          label="Email address"
          type="email"
          hint={member.passwordLink ? 'A link that was sent to the old address ends.' : undefined}
          {...form.field('email')}
        />
        <Field<Role> label="Role" choices={ROLES} {...form.field('role')} />
      </Form>
    </section>
  );
}
