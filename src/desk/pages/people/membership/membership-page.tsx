import { useCallback } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { api, Refused } from '../../../api/client';
import { type Column, DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import {
  includedLines,
  type MembershipInFull,
  type Month,
  monthOf,
  noticeOf,
  pauseOf,
  stateOf,
  toneOf,
  workingOf,
} from '../membership-labels';
import { PeopleTabs } from '../people-tabs';
import { CancelMembership } from './cancel-membership';
import { GiveNotice, TakeNoticeBack } from './notice';
import { EndPause, PauseMembership } from './pause';
import { ChangeShelf } from './shelf';
import { UseSection } from './use-section';

/** How does this membership stand? */
export function MembershipPage() {
  const { params } = useRoute();
  const id = params.membershipId ?? '';
  const first = useCallback((signal: AbortSignal) => readMembership(id, signal), [id]);
  return (
    <Page
      question="A membership"
      tabs={(me) => <PeopleTabs me={me} />}
      first={first}
      headed={({ kindName, personName }) => `${kindName}: ${personName}`}
    >
      {(membership, at) => <Known membership={membership} {...at} />}
    </Page>
  );
}

async function readMembership(membershipId: string, signal: AbortSignal): Promise<MembershipInFull> {
  const { data } = await api.GET('/api/memberships/{membershipId}', { params: { path: { membershipId } }, signal });
  if (!data) throw new Refused('unknown', 'This membership could not be loaded. Load the page again.');
  return data;
}

type Props = At & { membership: MembershipInFull };

function Known({ membership, ...at }: Props) {
  const { formatter } = at;
  const { moneyInText, date } = formatter;
  const { feeMinor, owedMinor, next } = membership;
  return (
    <>
      <p class="answer">
        <span class={toneOf(membership)}>{stateOf(membership, formatter)}.</span> <b>{moneyInText(feeMinor)}</b> a
        month, {owedMinor === 0 ? 'nothing owed' : `${moneyInText(owedMinor)} owed`}.
        {next && ` Charged next on ${date(next.on)}: ${moneyInText(next.amountMinor)}.`}
      </p>
      <Facts membership={membership} {...at} />
      {at.me.rights.includes('money:write') && <Acts membership={membership} {...at} />}
      <UseSection membership={membership} formatter={formatter} today={at.me.today} />
      <Months membership={membership} {...at} />
      <Pauses membership={membership} {...at} />
      <Events membership={membership} {...at} />
    </>
  );
}

function Facts({ membership, formatter }: Props) {
  const { personId, personName, startsOn, endsOn, chargedFrom, shelf, included, taxName } = membership;
  const lines = includedLines(included, formatter);
  const facts = [
    ['Member', <a href={`/people/${personId}`}>{personName}</a>],
    ['Since', formatter.fullDate(startsOn)],
    ['Last day', endsOn && formatter.fullDate(endsOn)],
    ['Charged here from', chargedFrom === startsOn ? null : formatter.fullDate(chargedFrom)],
    ['Shelf', included.shelf ? (shelf?.name ?? 'none given yet') : null],
    ['Each month', lines.length > 0 ? lines.join(', ') : 'nothing is included'],
    ['Notice', noticeOf(membership)],
    ['While paused', pauseOf(membership.pausePercent)],
    ['VAT', taxName],
  ] as const;
  return (
    <dl class="facts">
      {facts.map(
        ([head, what]) =>
          what && (
            <div key={head}>
              <dt>{head}</dt>
              <dd>{what}</dd>
            </div>
          ),
      )}
    </dl>
  );
}

function Acts({ membership, formatter, me }: Props) {
  const { state, months, endsOn, included } = membership;
  if (state === 'ended' || state === 'withdrawn') return null;
  const shared = { membership, formatter, today: me.today };
  return (
    <p class="acts no-paper">
      {included.shelf && <ChangeShelf {...shared} />}
      <PauseMembership {...shared} />
      {endsOn === null ? <GiveNotice {...shared} /> : <TakeNoticeBack {...shared} />}
      {months.length === 0 && <CancelMembership {...shared} />}
    </p>
  );
}

function Months({ membership: { months }, formatter }: Props) {
  const { money, date } = formatter;
  const columns: Column<Month>[] = [
    { head: 'Month', cell: ({ month }) => monthOf(month, formatter) },
    { head: 'Charged', cell: ({ chargedOn }) => date(chargedOn), spare: true },
    { head: 'Worked out as', cell: (month) => workingOf(month, formatter) },
    {
      head: 'Taken off later',
      figures: true,
      cell: ({ creditedMinor }) => (creditedMinor === 0 ? '' : money(creditedMinor)),
    },
    { head: 'Fee', figures: true, cell: ({ amountMinor }) => money(amountMinor) },
    { head: 'Owed', figures: true, cell: ({ owedMinor }) => money(owedMinor) },
  ];
  return (
    <section>
      <h2>What was charged</h2>
      {months.length === 0 ? (
        <p class="quiet">Nothing yet.</p>
      ) : (
        <DataTable caption="What was charged" columns={columns} rows={months} keyOf={({ month }) => month} />
      )}
    </section>
  );
}

function Pauses({ membership, formatter, me }: Props) {
  const { pauses } = membership;
  if (pauses.length === 0) return null;
  const isOpen = (to: string) => to >= me.today && me.rights.includes('money:write');
  const columns: Column<MembershipInFull['pauses'][number]>[] = [
    { head: 'From', cell: ({ from }) => formatter.fullDate(from) },
    { head: 'Last day', cell: ({ to }) => formatter.fullDate(to) },
    {
      head: 'Change',
      headHeard: true,
      cell: (pause) => isOpen(pause.to) && <EndPause {...{ membership, pause, formatter }} today={me.today} />,
    },
  ];
  return (
    <section>
      <h2>Pauses</h2>
      <DataTable caption="Pauses" columns={columns} rows={pauses} keyOf={({ id }) => id} />
    </section>
  );
}

function Events({ membership: { events }, formatter: { fullDate, dayOf, time } }: Props) {
  return (
    <section>
      <h2>What happened</h2>
      <ul>
        {events.map(({ at, by, what }) => (
          <li key={at + what}>
            {what}, by {by} on {fullDate(dayOf(at))} at {time(at)}
          </li>
        ))}
      </ul>
    </section>
  );
}
