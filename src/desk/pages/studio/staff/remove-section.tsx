import { useEffect, useRef } from 'preact/hooks';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import type { StaffEntry } from './deed';
import { sessionsWords } from './labels';

/** Says what goes and what stays, before it is done. */
export function RemoveSection({ member, isMe, onDone }: { member: StaffEntry; isMe: boolean; onDone(): void }) {
  const { id, name, state, comingSessions } = member;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const { run, error, busy } = useMutation();
  const invited = state === 'invited';
  const remove = async () => {
    const params = { path: { staffMemberId: id } };
    if (await run(id, (headers) => api.POST('/api/staff/{staffMemberId}/removal', { params, headers }))) onDone();
  };
  return (
    <section aria-labelledby="remove">
      <h2 id="remove" ref={heading} tabIndex={-1}>
        {invited ? `Withdraw the invitation of ${name}?` : `Remove ${isMe ? 'yourself' : name}?`}
      </h2>
      <p>
        {invited
          ? 'The link stops working at once.'
          : `${isMe ? 'You are' : `${name} is`} signed out everywhere at once, and tokens made for scripts stop working. Everything done so far stays, under the same name.`}
      </p>
      {comingSessions > 0 && (
        <p>
          {name} is down to teach {sessionsWords(comingSessions)}: find another tutor for{' '}
          {comingSessions === 1 ? 'it' : 'them'}.
        </p>
      )}
      {error && <ErrorMessage>{error}</ErrorMessage>}
      <p class="acts">
        <button type="button" aria-disabled={busy} onClick={remove}>
          {invited ? 'Withdraw invitation' : `Remove ${isMe ? 'myself' : name}`}
        </button>
        <button type="button" class="quiet" onClick={onDone}>
          Cancel
        </button>
      </p>
    </section>
  );
}
