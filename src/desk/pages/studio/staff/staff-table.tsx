import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { type Column, DataTable } from '../../../ui/data-table';
import type { Deed, NewLink, StaffEntry } from './deed';
import { mailWords, roleName, stateWords } from './labels';

type Props = { staff: StaffEntry[]; formatter: Formatter; onDeed(deed: Deed): void; onLink(link: NewLink): void };

/** Who works here, invited ones included. */
export function StaffTable({ staff, formatter, onDeed, onLink }: Props) {
  const { run, error, busy } = useMutation();
  const renew = ({ id }: StaffEntry) =>
    run(['renew', id], async (headers) => {
      const params = { path: { staffMemberId: id } };
      const { data } = await api.POST('/api/staff/{staffMemberId}/password-link', { params, headers });
      if (data) onLink(data);
    });
  const columns: Column<StaffEntry>[] = [
    { head: 'Name', cell: ({ name }) => name },
    { head: 'Role', cell: ({ role }) => roleName(role) },
    { head: 'Signs in with', cell: ({ email }) => email },
    { head: 'State', cell: (member) => <State member={member} formatter={formatter} /> },
    {
      ...{ head: 'Actions', headHeard: true },
      cell: (member) => (
        <span class="acts">
          <button type="button" class="quiet" aria-disabled={busy} onClick={() => renew(member)}>
            {member.state === 'invited' ? 'New link' : 'New password link'}
            <span class="heard"> for {member.name}</span>
          </button>
          <button type="button" class="quiet" onClick={() => onDeed({ doing: 'change', member })}>
            Change<span class="heard"> {member.name}</span>
          </button>
          <button type="button" class="quiet" onClick={() => onDeed({ doing: 'remove', member })}>
            {member.state === 'invited' ? 'Withdraw' : 'Remove'}
            <span class="heard"> {member.name}</span>
          </button>
        </span>
      ),
    },
  ];
  return (
    <section>
      {error && <ErrorMessage>{error}</ErrorMessage>}
      <DataTable caption="Who works here" columns={columns} rows={staff} keyOf={({ id }) => id} />
    </section>
  );
}

function State({ member, formatter }: { member: StaffEntry; formatter: Formatter }) {
  const { passwordLink } = member;
  return (
    <span>
      {stateWords(member, formatter)}
      {passwordLink?.works && (
        <>
          <br />
          <small>{mailWords(passwordLink.mail)}</small>
        </>
      )}
    </span>
  );
}

/** Who worked here once: what they did still has their name. */
export function RemovedStaff({ staff, formatter }: Pick<Props, 'staff' | 'formatter'>) {
  if (staff.length === 0) return null;
  const columns: Column<StaffEntry>[] = [
    { head: 'Name', cell: ({ name }) => name },
    { head: 'Role', cell: ({ role }) => roleName(role) },
    {
      head: 'Removed on',
      cell: ({ removedAt }) => (removedAt ? formatter.fullDate(formatter.dayOf(removedAt)) : ''),
    },
  ];
  return (
    <details>
      <summary>Removed</summary>
      <DataTable caption="Who was removed" columns={columns} rows={staff} keyOf={({ id }) => id} />
    </details>
  );
}
