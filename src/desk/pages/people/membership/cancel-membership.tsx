import { api } from '../../../api/client';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { useForm } from '../../../forms/use-form';
import { DialogButton } from '../../../ui/dialog';
import type { ChangeProps } from './membership-change';

/** For one that was entered by mistake, as long as nothing was charged for it. */
export const CancelMembership = (props: ChangeProps) => (
  <DialogButton label="Cancel membership">{(close) => <Cancelling {...props} onClose={close} />}</DialogButton>
);

function Cancelling({ membership: { id }, onClose }: ChangeProps & { onClose(): void }) {
  const form = useForm({
    initial: { reason: '' },
    schema: 'NewMembershipWithdrawalInput',
    send: ({ reason }, headers) =>
      api.POST('/api/memberships/{membershipId}/withdrawal', {
        ...{ params: { path: { membershipId: id } }, body: { reason: reason.trim() }, headers },
      }),
    onSaved: onClose,
  });
  return (
    <Form form={form} save="Cancel membership" onCancel={onClose}>
      <p>Nothing was charged for it yet. It stays in the list as cancelled; no letter goes out.</p>
      <Field label="Why" {...form.field('reason')} />
    </Form>
  );
}
