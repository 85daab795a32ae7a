import { api, Refused } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { useForm } from '../../../forms/use-form';
import { DialogButton } from '../../../ui/dialog';
import type { ChangeProps } from './membership-change';

/** Gives a member a shelf, another one, or none. */
export const ChangeShelf = (props: ChangeProps) => (
  <DialogButton label={props.membership.shelf ? 'Change shelf' : 'Give a shelf'}>
    {(close) => <Choosing {...props} onClose={close} />}
  </DialogButton>
);

async function readShelves(signal: AbortSignal) {
  const { data } = await api.GET('/api/boards', { signal });
  if (!data) throw new Refused('unknown', 'The shelves could not be loaded. Close this and open it again.');
  return data.items.filter(({ kind }) => kind === 'shelf');
}

function Choosing({ membership: { id, shelf }, onClose }: ChangeProps & { onClose(): void }) {
  const { data: shelves, error } = useQuery({ key: ['shelves'], read: readShelves });
  const form = useForm({
    initial: { boardId: shelf?.boardId ?? '' },
    schema: 'NewMembershipShelfInput',
    send: ({ boardId }, headers) =>
      api.POST('/api/memberships/{membershipId}/shelf', {
        ...{ params: { path: { membershipId: id } }, body: { boardId: boardId || null }, headers },
      }),
    onSaved: onClose,
  });
  if (error) return <ErrorMessage>{error.message}</ErrorMessage>;
  if (!shelves) return <p aria-busy="true">Loading.</p>;
  return (
    <Form form={form} save="Save" onCancel={onClose}>
      <Field
        label="Shelf"
        hint="Shelves are among the places for ware, on the page Ware."
        choices={[['', 'None'], ...shelves.map(({ id, name }) => [id, name] as const)]}
        {...form.field('boardId')}
        required={false}
      />
    </Form>
  );
}
