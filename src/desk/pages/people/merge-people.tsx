import { useState } from 'preact/hooks';
import { ChoosePerson, type Chosen } from '../../actions/choose-person';
import { PreviewedAction } from '../../actions/previewed-action';
import { api, type Schemas } from '../../api/client';
import { capital, type Formatter, listed } from '../../format/formatter';
import { Field } from '../../forms/field';
import { DialogButton } from '../../ui/dialog';
import { toast } from '../../ui/toast';
import { FIELDS, fieldInWords, type MergedField, movedInWords } from './merge-labels';

type Wish = Schemas['NewMergeInput'] & { staysId: string };
type Outcome = Schemas['MergeOutcome'];
type Props = { person: Chosen; formatter: Formatter };

/** From a person's page: somebody is in the books twice. */
export function SamePerson({ person, formatter }: Props) {
  return (
    <DialogButton label="The same person as …" title={`${person.name} is in your list twice`}>
      {(close) => <Choosing {...{ person, formatter }} onClose={close} />}
    </DialogButton>
  );
}

function Choosing({ person, formatter, onClose }: Props & { onClose(): void }) {
  const [other, setOther] = useState<Chosen | null>(null);
  return other ? (
    <MergePeople {...{ person, other, formatter, onClose }} />
  ) : (
    <ChoosePerson label="The other entry" otherThan={[person.id]} onlyKnown onChoose={setOther} />
  );
}

type MergeProps = Props & { other: Chosen; onClose(): void };

/** Which of two entries stays, which value of each is kept and what goes over: all is seen before it is done. */
export function MergePeople({ person, other, formatter, onClose }: MergeProps) {
  const [staysId, setStaysId] = useState(person.id);
  const [take, setTake] = useState<MergedField[]>();
  const [stays, gone] = staysId === person.id ? [person, other] : [other, person];
  const wish: Wish = { staysId, otherId: gone.id, ...(take && { take }) };
  const ofWish = ({ staysId: personId, ...body }: Wish) => ({ params: { path: { personId } }, body });
  return (
    <>
      <Field
        label="Entry that stays"
        hint="Its address stays; that of the other one leads here."
        choices={[
          [person.id, `${person.name} (this one)`],
          [other.id, `${other.name} (the other one)`],
        ]}
        value={staysId}
        onChange={(id) => {
          setStaysId(id);
          setTake(undefined);
        }}
      />
      <PreviewedAction<Wish, Outcome>
        name={`merge ${person.id} ${other.id}`}
        wish={wish}
        ask={(wanted, signal) => api.POST('/api/people/{personId}/merges/preview', { ...ofWish(wanted), signal })}
        send={(wanted, headers) => api.POST('/api/people/{personId}/merges', { ...ofWish(wanted), headers })}
        save={() => 'Make them one'}
        onDone={({ person: now }) => {
          onClose();
          toast(<a href={`/people/${now.id}`}>{now.name} is one entry now.</a>);
        }}
        onCancel={onClose}
      >
        {(outcome) => (
          <>
            <Values {...{ outcome, formatter }} onTake={setTake} />
            <p>{answerOf(outcome, stays, formatter)}</p>
            <p class="quiet">
              This can’t be undone. What is not kept stays readable on their page, and no letter is sent for it.
            </p>
          </>
        )}
      </PreviewedAction>
    </>
  );
}

type ValuesProps = { outcome: Outcome; formatter: Formatter; onTake(take: MergedField[]): void };

/** Where the two entries say different things, which is kept. */
function Values({ outcome: { merge, taken }, formatter, onTake }: ValuesProps) {
  const { was, intoWas } = merge;
  const differing = FIELDS.filter(
    ([field]) => fieldInWords(was, field, formatter) !== fieldInWords(intoWas, field, formatter),
  );
  if (differing.length === 0) return <p>Both entries say the same.</p>;
  return (
    <div class="pairs">
      {differing.map(([field, label]) => (
        <Field<'own' | 'other'>
          key={field}
          label={label}
          choices={[
            ['own', fieldInWords(intoWas, field, formatter) || 'None'],
            ['other', fieldInWords(was, field, formatter) || 'None'],
          ]}
          value={taken.includes(field) ? 'other' : 'own'}
          onChange={(whose) =>
            onTake([...taken.filter((each) => each !== field), ...(whose === 'other' ? [field] : [])])
          }
        />
      ))}
    </div>
  );
}

/** What goes over, and that the sum of what both owe is what the one owes. */
function answerOf({ merge, balanceMinor }: Outcome, stays: Chosen, { moneyInText }: Formatter): string {
  const { moved } = merge;
  const goes =
    moved.length === 0
      ? 'Nothing else is theirs.'
      : `${capital(listed(moved.map(movedInWords)))} will be ${stays.name}’s.`;
  const owes = (minor: number) => moneyInText(minor);
  if (balanceMinor === 0 && merge.balanceMinor === 0) return `${goes} They owe nothing.`;
  return `${goes} By the books they owe ${owes(balanceMinor)}: ${owes(merge.intoBalanceMinor)} and ${owes(merge.balanceMinor)}.`;
}
