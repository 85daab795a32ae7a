import { useState } from 'preact/hooks';
import { api } from '../../../api/client';
import { capital, count } from '../../../format/formatter';
import { type At, Page } from '../../../ui/page';
import { StudioTabs } from '../studio-tabs';
import { ChangeForm } from './change-form';
import type { Deed, NewLink, StaffEntry } from './deed';
import { InviteForm } from './invite-form';
import { NewLinkSection } from './new-link-section';
import { RemoveSection } from './remove-section';
import { RemovedStaff, StaffTable } from './staff-table';

type Staff = { current: StaffEntry[]; removed: StaffEntry[] };

async function readStaff(_: unknown, signal: AbortSignal): Promise<Staff> {
  const list = async (who: 'current' | 'removed') =>
    (await api.GET('/api/staff', { params: { query: { who } }, signal })).data?.items ?? [];
  const [current, removed] = await Promise.all([list('current'), list('removed')]);
  return { current, removed };
}

/** Who works here and how they get in. */
export function StaffPage() {
  return (
    <Page question="Staff" tabs={(me) => <StudioTabs me={me} />} read={readStaff}>
      {(staff, at) => <StaffAnswer staff={staff} at={at} />}
    </Page>
  );
}

function StaffAnswer({ staff: { current, removed }, at }: { staff: Staff; at: At }) {
  const [deed, setDeed] = useState<Deed | null>(null);
  const done = () => setDeed(null);
  const show = (link: NewLink) => setDeed({ doing: 'show', link });
  const waiting = current.filter(({ state }) => state === 'invited').length;
  return (
    <>
      <p class="answer">
        {capital(count(current.length, 'person works', 'people work'))} here
        {waiting > 0 && `; ${count(waiting, 'has', 'have')} not joined yet`}.
      </p>
      <p class="quiet">
        A second tutor’s fee is part of a <a href="/courses/plans">course plan</a>. What your own hour is worth is in{' '}
        <a href="/studio">Settings</a>.
      </p>
      {deed === null && (
        <p class="acts">
          <button type="button" onClick={() => setDeed({ doing: 'invite' })}>
            Invite somebody
          </button>
        </p>
      )}
      {deed?.doing === 'invite' && <InviteForm onInvited={show} onCancel={done} />}
      {deed?.doing === 'show' && <NewLinkSection link={deed.link} formatter={at.formatter} onClose={done} />}
      {deed?.doing === 'change' && <ChangeForm key={deed.member.id} member={deed.member} onDone={done} />}
      {deed?.doing === 'remove' && (
        <RemoveSection key={deed.member.id} member={deed.member} isMe={deed.member.id === at.me.id} onDone={done} />
      )}
      <StaffTable staff={current} formatter={at.formatter} onDeed={setDeed} onLink={show} />
      <RemovedStaff staff={removed} formatter={at.formatter} />
    </>
  );
}
