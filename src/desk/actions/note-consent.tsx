import { api, type Schemas } from '../api/client';
import type { Formatter } from '../format/formatter';
import { Field } from '../forms/field';
import { Form } from '../forms/form';
import { useForm } from '../forms/use-form';
import { DialogButton } from '../ui/dialog';

type Means = Schemas['Consent']['means'];
type Props = {
  child: { personId: string; name: string };
  guardians: readonly Schemas['Guardian'][];
  /** the course that it may be for alone */
  course?: { courseId: string; title: string };
  today: string;
};

const MEANS: readonly (readonly [Means, string])[] = [
  ['onPaper', 'On paper, signed'],
  ['byEmail', 'By email'],
  ['byPhone', 'On the phone'],
  ['inPerson', 'In person'],
];

/** Notes that a guardian agreed to something for a child: who, when, how and to what. */
export function NoteConsent(props: Props) {
  return (
    <DialogButton
      label="Note consent"
      about={`for ${props.child.name}`}
      title={`A guardian agreed for ${props.child.name}`}
    >
      {(close) => <Noting {...props} onClose={close} />}
    </DialogButton>
  );
}

function Noting({ child, guardians, course, today, onClose }: Props & { onClose(): void }) {
  const form = useForm({
    initial: {
      ...{ givenById: guardians[0]?.personId ?? '', courseId: course?.courseId ?? '', givenOn: today },
      ...{ means: 'onPaper', what: '' },
    },
    schema: 'NewConsentInput',
    send: ({ means, courseId, ...values }, headers) =>
      api.POST('/api/people/{personId}/consents', {
        params: { path: { personId: child.personId } },
        body: { ...values, courseId: courseId || null, means: means as Means },
        headers,
      }),
    onSaved: onClose,
  });
  if (guardians.length === 0)
    return (
      <p>
        Nobody is noted who answers for {child.name}. Add a guardian on{' '}
        <a href={`/people/${child.personId}`}>their page</a> first.
      </p>
    );
  return (
    <Form form={form} save="Note this consent" onCancel={onClose}>
      <div class="pairs">
        <Field
          label="Who agreed"
          choices={guardians.map(({ personId, name }) => [personId, name] as const)}
          {...form.field('givenById')}
        />
        <Field label="How" choices={MEANS} {...form.field('means')} />
        <Field label="When" type="date" {...form.field('givenOn')} required />
        {course && (
          <Field
            label="For"
            choices={[
              [course.courseId, course.title],
              ['', 'All that they come to'],
            ]}
            {...form.field('courseId')}
            required={false}
          />
        )}
        <Field
          label="Agreed to what"
          hint="For example, takes part, comes and goes alone, first aid"
          wide
          {...form.field('what')}
        />
      </div>
    </Form>
  );
}

/** "Ana Marsh agreed on paper on 3 March 2026: takes part, first aid" */
export const consentInWords = (
  { givenByName, means, givenOn, what, courseTitle }: Schemas['Consent'],
  { fullDate }: Formatter,
): string =>
  `${givenByName} agreed ${HOW[means]} on ${fullDate(givenOn)}${courseTitle === null ? '' : `, for ${courseTitle}`}: ${what}`;

const HOW: Record<Means, string> = {
  onPaper: 'on paper',
  byEmail: 'by email',
  byPhone: 'on the phone',
  inPerson: 'in person',
};
