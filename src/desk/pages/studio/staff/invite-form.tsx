import { api } from '../../../api/client';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { useForm } from '../../../forms/use-form';
import type { NewLink } from './deed';
import { ROLES } from './labels';

type Role = (typeof ROLES)[number][0];

export function InviteForm({ onInvited, onCancel }: { onInvited(link: NewLink): void; onCancel(): void }) {
  const form = useForm<{ name: string; email: string; role: Role }>({
    initial: { name: '', email: '', role: 'tutor' },
    schema: 'NewStaffMemberInput',
    send: async (body, headers) => {
      const { data } = await api.POST('/api/staff', { body, headers });
      if (data) onInvited(data);
    },
  });
  return (
    <section aria-label="Invite somebody">
      <h2>Invite somebody</h2>
      <p>They are sent a link, by which they choose their own password. A tutor sees no money; an owner sees all.</p>
      <Form form={form} save="Send invitation" onCancel={onCancel}>
        <Field label="Name" {...form.field('name')} />
        <Field label="Email address" type="email" {...form.field('email')} />
        <Field<Role> label="Role" choices={ROLES} {...form.field('role')} />
      </Form>
    </section>
  );
}
