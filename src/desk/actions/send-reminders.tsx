import { api, isAnswer, type Schemas } from '../api/client';
import { further, type Headers } from '../api/idempotency-key';
import { count, type Formatter } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import type { Letter } from './letters-preview';
import { PreviewedAction } from './previewed-action';

type Person = { personId: string; name: string };
type Written = Person & Schemas['Reminder'];
/** What was written, or would be; one that is refused keeps nobody else from theirs. */
type Outcome = { written: Written[]; refused: string[] };
type Props = { people: readonly Person[]; label: string; about?: string; formatter: Formatter };

/** Reminds people of what is due, each letter seen first. */
export function SendReminders({ people, label, about, formatter }: Props) {
  const { moneyInText } = formatter;
  const [only] = people;
  return (
    <DialogButton {...{ label }} {...(about && { about })} title={people.length === 1 ? `Remind ${only?.name}` : label}>
      {(close) => (
        <PreviewedAction<readonly Person[], Outcome>
          name="reminders"
          wish={people}
          ask={previewAll}
          send={sendAll}
          save={({ outcome: { written } }) =>
            written.length === 0 ? null : `Send ${written.length === 1 ? 'reminder' : `${written.length} reminders`}`
          }
          onDone={(done) => {
            close();
            toast(<Sent {...done} {...{ moneyInText }} />);
          }}
          onCancel={close}
        >
          {({ written, refused }) => (
            <>
              {written.length > 0 && (
                <p>
                  {moneyInText(sumOf(written))} is due
                  {written.length > 1 && ` from ${count(written.length, 'person', 'people')}`}.
                </p>
              )}
              {refused.map((sentence) => (
                <ErrorMessage key={sentence}>{sentence}</ErrorMessage>
              ))}
            </>
          )}
        </PreviewedAction>
      )}
    </DialogButton>
  );
}

const sumOf = (written: readonly Written[]) => written.reduce((sum, { dueMinor }) => sum + dueMinor, 0);

async function previewAll(people: readonly Person[], signal: AbortSignal) {
  const letters: Letter[] = [];
  const outcome = await each(people, async (params) => {
    const { data } = await api.POST('/api/people/{personId}/reminders/preview', { params, signal });
    letters.push(...(data?.letters ?? []));
    return data?.outcome;
  });
  return { data: { outcome, letters } };
}

const sendAll = async (people: readonly Person[], headers: Headers) => ({
  data: await each(people, async (params, i) => {
    const own = people.length === 1 ? headers : further(headers, i);
    return (await api.POST('/api/people/{personId}/reminders', { params, headers: own })).data;
  }),
});

type Params = { path: { personId: string } };

async function each(
  people: readonly Person[],
  remind: (params: Params, i: number) => Promise<Schemas['Reminder'] | undefined>,
): Promise<Outcome> {
  const outcome: Outcome = { written: [], refused: [] };
  for (const [i, person] of people.entries()) {
    try {
      const reminder = await remind({ path: { personId: person.personId } }, i);
      if (reminder) outcome.written.push({ ...person, ...reminder });
    } catch (error) {
      if (!isAnswer(error)) throw error;
      outcome.refused.push(error.message);
    }
  }
  return outcome;
}

function Sent({ written, refused, moneyInText }: Outcome & Pick<Formatter, 'moneyInText'>) {
  const [first] = written;
  return (
    <>
      <span>
        {written.length === 1 && first
          ? `${first.name} is reminded of ${moneyInText(first.dueMinor)}.`
          : `${written.length} reminders are sent.`}{' '}
        {refused.join(' ')}
      </span>
      {written
        .filter(({ hasEmail }) => !hasEmail)
        .map(({ noticeId, name }) => (
          <a key={noticeId} href={`/letters/${noticeId}`}>
            No email address: letter to {name}
          </a>
        ))}
    </>
  );
}
