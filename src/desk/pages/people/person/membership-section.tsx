import type { Schemas } from '../../../api/client';
import { type Column, DataTable } from '../../../ui/data-table';
import type { At } from '../../../ui/page';
import { type Membership, stateOf, toneOf } from '../membership-labels';
import { StartMembership } from '../start-membership';

type Props = At & { person: Schemas['Person']; memberships: { items: Membership[] } };

/** Whether they are a member, and on what terms; from here one is started. */
export function MembershipSection({ person, memberships: { items }, formatter, me }: Props) {
  const isMember = items.some(({ state, endsOn }) => endsOn === null && state !== 'withdrawn');
  const columns: Column<Membership>[] = [
    { head: 'Membership', cell: ({ id, kindName }) => <a href={`/people/members/${id}`}>{kindName}</a> },
    { head: 'Since', cell: ({ startsOn }) => formatter.fullDate(startsOn) },
    { head: 'State', cell: (membership) => stateOf(membership, formatter), toneOf },
    { head: 'Shelf', cell: ({ shelf }) => shelf?.name },
    { head: 'Fee', figures: true, cell: ({ feeMinor }) => formatter.money(feeMinor) },
    { head: 'Owed', figures: true, cell: ({ owedMinor }) => formatter.money(owedMinor) },
  ];
  return (
    <section>
      <h2>Membership</h2>
      {items.length === 0 ? (
        <p class="quiet">Not a member here.</p>
      ) : (
        <DataTable caption="Membership" columns={columns} rows={items} keyOf={({ id }) => id} />
      )}
      {!isMember && me.rights.includes('money:write') && (
        <p class="acts no-paper">
          <StartMembership person={{ id: person.id, name: person.name }} formatter={formatter} today={me.today} />
        </p>
      )}
    </section>
  );
}
