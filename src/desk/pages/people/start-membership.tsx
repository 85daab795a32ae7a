import { useState } from 'preact/hooks';
import { ChoosePerson, type Chosen } from '../../actions/choose-person';
import { PreviewedAction } from '../../actions/previewed-action';
import { api, Refused, type Schemas } from '../../api/client';
import { useQuery } from '../../api/query';
import type { Formatter } from '../../format/formatter';
import { amountTyped } from '../../forms/amount';
import { ErrorMessage } from '../../forms/error-message';
import { Field } from '../../forms/field';
import { DialogButton } from '../../ui/dialog';
import { toast } from '../../ui/toast';
import { includedLines, type MembershipInFull, type MembershipKind, monthOf } from './membership-labels';

type Wish = Schemas['NewMembershipInput'];
type Props = { person?: Chosen; formatter: Formatter; today: string };

/** Makes somebody a member: on which terms, from when; the first fee and the letter are seen first. */
export function StartMembership({ person, ...rest }: Props) {
  return (
    <DialogButton label="Start a membership" title={person ? `A membership for ${person.name}` : 'Start a membership'}>
      {(close) => <Choosing {...rest} {...(person && { person })} onClose={close} />}
    </DialogButton>
  );
}

type Inside = Props & { onClose(): void };

function Choosing({ person, ...rest }: Inside) {
  const [chosen, setChosen] = useState<Chosen | null>(person ?? null);
  const { data, error } = useQuery({ key: ['membership-choices'], read: readChoices });
  if (!chosen) return <ChoosePerson label="Who" onChoose={setChosen} />;
  if (error) return <ErrorMessage>{error.message}</ErrorMessage>;
  if (!data) return <p aria-busy="true">Loading.</p>;
  const [first] = data.kinds;
  if (!first)
    return (
      <p>
        There is no kind of membership yet. <a href="/people/members/kinds">Add one first</a>
      </p>
    );
  return <Starting {...rest} {...data} person={chosen} first={first} />;
}

type Board = Schemas['Board'];

async function readChoices(signal: AbortSignal): Promise<{ kinds: MembershipKind[]; shelves: Board[] }> {
  const [kinds, boards] = await Promise.all([
    api.GET('/api/membership-kinds', { signal }),
    api.GET('/api/boards', { signal }),
  ]);
  if (!kinds.data || !boards.data)
    throw new Refused('unknown', 'The kinds of membership could not be loaded. Close this and open it again.');
  return { kinds: kinds.data.items, shelves: boards.data.items.filter(({ kind }) => kind === 'shelf') };
}

type StartingProps = Omit<Inside, 'person'> & {
  person: Chosen;
  kinds: MembershipKind[];
  shelves: Board[];
  first: MembershipKind;
};

function Starting({ person, kinds, shelves, first, formatter, today, onClose }: StartingProps) {
  const [typed, setTyped] = useState({ kindId: first.id, startsOn: today, chargedFrom: '', fee: '', boardId: '' });
  const kind = kinds.find(({ id }) => id === typed.kindId) ?? first;
  const change = (next: Partial<typeof typed>) => setTyped({ ...typed, ...next });
  const params = { path: { personId: person.id } };
  return (
    <>
      {kinds.length > 1 && (
        <Field
          label="Membership"
          choices={kinds.map(({ id, name, feeMinor }) => [id, `${name}, ${formatter.moneyInText(feeMinor)}`] as const)}
          value={typed.kindId}
          onChange={(kindId) => change({ kindId })}
        />
      )}
      <p class="quiet">{['Each month', ...includedOf(kind, formatter)].join(' · ')}</p>
      <div class="pairs">
        <Field label="First day" type="date" value={typed.startsOn} onChange={(startsOn) => change({ startsOn })} />
        {kind.hasShelf && (
          <Field
            label="Shelf"
            choices={[['', 'None yet'], ...shelves.map(({ id, name }) => [id, name] as const)]}
            value={typed.boardId}
            onChange={(boardId) => change({ boardId })}
          />
        )}
        <Field
          label="Agreed fee, if another"
          hint={`Left empty: ${formatter.moneyInText(kind.feeMinor)} a month`}
          figures
          value={typed.fee}
          onChange={(fee) => change({ fee })}
        />
        {typed.startsOn < today && (
          <Field
            label="Charged here from"
            hint="Where what is before was charged elsewhere"
            type="date"
            value={typed.chargedFrom}
            onChange={(chargedFrom) => change({ chargedFrom })}
          />
        )}
      </div>
      <PreviewedAction<Wish, MembershipInFull>
        name={`start ${person.id}`}
        wish={wishOf(typed, kind, formatter.currency)}
        ask={(body, signal) => api.POST('/api/people/{personId}/memberships/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/people/{personId}/memberships', { params, body, headers })}
        save={() => 'Start it'}
        onDone={({ id, personName, kindName }) => {
          onClose();
          toast(
            <span>
              <a href={`/people/members/${id}`}>{kindName}</a> started for {personName}.
            </span>,
          );
        }}
        onCancel={onClose}
      >
        {(outcome) => <p>{firstFee(outcome, formatter)}</p>}
      </PreviewedAction>
    </>
  );
}

const includedOf = (kind: MembershipKind, formatter: Formatter): string[] => {
  const { benchMinutes, firingLitres, clayId, clayName, clayGrams, hasShelf } = kind;
  const clay = clayId === null ? null : { materialId: clayId, name: clayName ?? '', grams: clayGrams };
  const lines = includedLines({ benchMinutes, firingLitres, clay, shelf: hasShelf }, formatter);
  return lines.length > 0 ? lines : ['nothing is included'];
};

/** "£42.58 is charged now for March 2026, and £60 on 1 April." */
function firstFee({ months, next }: MembershipInFull, formatter: Formatter): string {
  const { moneyInText, date } = formatter;
  const now = months
    .toReversed()
    .map(({ month, amountMinor }) => `${moneyInText(amountMinor)} for ${monthOf(month, formatter)}`);
  const later = next && `${moneyInText(next.amountMinor)} on ${date(next.on)}`;
  if (now.length === 0) return later === null ? 'Nothing is charged.' : `Charged first: ${later}.`;
  return `Charged now: ${now.join(', ')}.${later === null ? '' : ` Then ${later}.`}`;
}

type Typed = { kindId: string; startsOn: string; chargedFrom: string; fee: string; boardId: string };

function wishOf({ startsOn, chargedFrom, fee, boardId }: Typed, kind: MembershipKind, currency: string): Wish | null {
  const feeMinor = fee.trim() === '' ? undefined : amountTyped(fee, currency);
  if (startsOn === '' || feeMinor === null) return null;
  return {
    ...{ kindId: kind.id, startsOn, boardId: kind.hasShelf ? boardId || null : null },
    ...(chargedFrom && { chargedFrom }),
    ...(feeMinor !== undefined && { feeMinor }),
  };
}
