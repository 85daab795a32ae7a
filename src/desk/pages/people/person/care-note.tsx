import { api, type Schemas } from '../../../api/client';
import { capital, type Formatter } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { useForm } from '../../../forms/use-form';
import { DialogButton } from '../../../ui/dialog';

export type CareNoteRead = Schemas['CareNote'] & { etag: string };
type Props = { personId: string; of: CareNoteRead; formatter: Formatter };

/** What somebody told the studio about health or access; only owners see it here. */
export function CareNote({ personId, of, formatter }: Props) {
  const { careNote, changes } = of;
  return (
    <section class="no-paper">
      <h2>Health and access</h2>
      <p class={careNote ? undefined : 'quiet'}>{careNote ?? 'Nothing is noted.'}</p>
      <p class="acts">
        <DialogButton label={careNote ? 'Change this note' : 'Add a note'} title="Health and access">
          {(close) => <Editing personId={personId} of={of} onClose={close} />}
        </DialogButton>
      </p>
      {changes.length > 0 && (
        <details>
          <summary>Who noted it</summary>
          <ul>
            {changes.map(({ what, at, by }) => (
              <li key={at}>{changeInWords({ what, at, by }, formatter)}</li>
            ))}
          </ul>
          <p class="quiet">What it said before is not kept.</p>
        </details>
      )}
    </section>
  );
}

const changeInWords = (
  { what, at, by }: Schemas['CareNote']['changes'][number],
  { fullDate, dayOf, time }: Formatter,
): string => `${capital(what)} by ${by} on ${fullDate(dayOf(at))} at ${time(at)}`;

function Editing({ personId, of, onClose }: Omit<Props, 'formatter'> & { onClose(): void }) {
  const form = useForm({
    initial: { careNote: of.careNote ?? '' },
    schema: 'NewCareNoteInput',
    send: (values, headers) =>
      api.PUT('/api/people/{personId}/care-note', {
        ...{ params: { path: { personId } }, body: { careNote: values.careNote.trim() || null } },
        headers: { ...headers, 'if-match': of.etag },
      }),
    onSaved: onClose,
  });
  return (
    <Form form={form} save="Save" onCancel={onClose}>
      <Field
        label="What should their tutor know?"
        hint="For example, an allergy, a wheelchair or poor hearing. Write only what they asked you to note. You see it, and the tutors of their sessions do. Leave it empty to remove it for good."
        lines
        {...form.field('careNote')}
        required={false}
      />
    </Form>
  );
}
