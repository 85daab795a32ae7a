import { useState } from 'preact/hooks';
import { api, Refused } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { changedBetween } from './field-labels';
import { type Draft, draftOf } from './form-values';
import { PlanForm } from './plan-form';
import { type Opened, openPlan, type Plan, type PlanBody, type Workshop } from './queries';
import { deleteDraft, type Kept, saveDraft } from './unsaved-draft';

type Props = {
  opened: Opened;
  /** what was typed before and never kept */
  kept: Kept | null;
  workshop: Workshop;
  formatter: Formatter;
  /** how many courses stand on it */
  all: number;
  onSaved(): void;
  onLeave(): void;
};

/** The plan as it was when its form was opened: another's change since then is shown, and not written over unasked. */
export function EditPlan({ opened: now, kept, workshop, formatter, all, onSaved, onLeave }: Props) {
  const [from, setFrom] = useState<Opened>(kept?.opened ?? now);
  const [other, setOther] = useState<Opened | null>(null);
  const [start] = useState<Draft>(() => kept?.draft ?? draftOf(now.plan, workshop));
  const [typed, setTyped] = useState(start);
  const { id } = now.plan;
  const leave = () => {
    deleteDraft(id);
    onLeave();
  };
  const put = async (body: PlanBody, headers: { 'idempotency-key': string }): Promise<Plan> => {
    setOther(null);
    try {
      const params = { path: { planId: id } };
      const { data } = await api.PUT('/api/course-plans/{planId}', {
        ...{ params, body },
        headers: { ...headers, 'if-match': from.etag },
      });
      return data as Plan;
    } catch (error) {
      if (error instanceof Refused && error.type === '/problems/changed-meanwhile') setOther(await openPlan(id));
      throw error;
    }
  };
  return (
    <>
      {kept && <p class="done">What you had typed is here again; it is not kept by the studio yet.</p>}
      {all > 0 && (
        <p class="quiet">
          Courses already use this plan. Its quantities, times and terms may change; the number of its sessions and what
          each is for, and how it is sold, stay. For those begin a new plan from this one.
        </p>
      )}
      <PlanForm
        {...{ start, workshop, formatter }}
        verb="Save plan"
        over={from.etag}
        inTheWay={other && <Meanwhile {...{ from, other }} onMine={() => setFrom(other)} onTheirs={leave} />}
        onTyped={(draft) => {
          setTyped(draft);
          if (draft !== start || kept) saveDraft(id, { opened: from, draft });
        }}
        save={put}
        onSaved={() => {
          deleteDraft(id);
          onSaved();
        }}
        onLeave={typed === start && !kept ? onLeave : leave}
      />
    </>
  );
}

type MeanwhileProps = { from: Opened; other: Opened; onMine(): void; onTheirs(): void };

/** Somebody else wrote on the plan: what they changed, and that it is for the owner to say whose stands. */
function Meanwhile({ from, other, onMine, onTheirs }: MeanwhileProps) {
  if (other.etag === from.etag) return <p class="done">Yours will be saved: press “Save plan”.</p>;
  return (
    <div class="fault" role="alert">
      <p>
        Somebody else changed this plan while you wrote: {changedBetween(from.plan, other.plan) || 'the same as you'}.
        Nothing was kept, and what you typed is still here.
      </p>
      <p class="acts">
        <button type="button" class="quiet" onClick={onMine}>
          Put mine in its place
        </button>
        <button type="button" class="quiet" onClick={onTheirs}>
          Keep theirs
        </button>
      </p>
    </div>
  );
}
