import { SendReminders } from '../../actions/send-reminders';
import { TakePayment } from '../../actions/take-payment';
import { count, type Formatter } from '../../format/formatter';
import { type Column, DataTable } from '../../ui/data-table';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import type { Today } from './labels';

type Debt = NonNullable<Today['debts']>['top'][number];

const columnsOf = (formatter: Formatter): readonly Column<Debt>[] => [
  { head: 'Who', cell: ({ personId, name }) => <a href={`/people/${personId}`}>{name}</a> },
  { head: 'What for', cell: ({ what }) => what.join('; ') },
  {
    ...{ head: 'Due now', figures: true },
    cell: ({ dueMinor }) => formatter.money(dueMinor),
    toneOf: ({ dueMinor }) => (dueMinor > 0 ? 'iron' : 'none'),
  },
  { head: 'In all', figures: true, cell: ({ owedMinor }) => formatter.money(owedMinor) },
  {
    ...{ head: 'Actions', headHeard: true },
    cell: ({ personId, name, dueMinor }) => (
      <span class="acts">
        <TakePayment person={{ personId, name }} formatter={formatter} />
        {dueMinor > 0 && (
          <SendReminders people={[{ personId, name }]} label="Remind" about={name} formatter={formatter} />
        )}
      </span>
    ),
  },
];

type Props = { today: Today; formatter: Formatter };

/** Who owes most; the rest stands on its own page. A tutor sees none of it. */
export function Debts({ today: { debts }, formatter }: Props) {
  const { money } = formatter;
  const narrow = useNarrow();
  if (!debts || debts.people + debts.heldPeople === 0) return null;
  return (
    <Disclosure open={!narrow} title="Who owes" note={count(debts.people, 'person', 'people')}>
      <DataTable
        id="owes"
        caption="Who owes"
        columns={columnsOf(formatter)}
        rows={debts.top}
        keyOf={({ personId }) => personId}
      />
      <p>
        {debts.heldMinor > 0 &&
          `${money(debts.heldMinor)} more is asked for held places, and owed once they are confirmed. `}
        {debts.firingPeople > 0 &&
          `${money(debts.firingOwedMinor)} of it is for firing, from ${count(debts.firingPeople, 'person', 'people')}. `}
        <a href="/money">
          {debts.people > debts.top.length ? `All ${debts.people} who owe, and taking a payment` : 'Take a payment'}
        </a>
      </p>
    </Disclosure>
  );
}
