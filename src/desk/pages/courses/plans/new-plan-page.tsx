import '../../../charts/boards.css';
import '../../../ui/styles/raised.css';
import './plans.css';
import { useCallback, useState } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { api } from '../../../api/client';
import { type At, Page } from '../../../ui/page';
import { CoursesTabs } from '../courses-tabs';
import { type Draft, draftOf, emptyDraft } from './form-values';
import { PlanForm } from './plan-form';
import { openPlan, type Plan, readWorkshop, type Workshop } from './queries';
import { deleteDraft, loadDraft, saveDraft } from './unsaved-draft';

const NEW = 'new';

/** New course plan Begun from nothing, or from another plan. */
export function NewPlanPage() {
  const from = useRoute().params.planId ?? '';
  const read = useCallback(async () => {
    const [workshop, opened] = await Promise.all([readWorkshop(), from ? openPlan(from) : null]);
    return { workshop, model: opened?.plan ?? null };
  }, [from]);
  return (
    <Page fresh key={from} question="New course plan" tabs={(me) => <CoursesTabs me={me} />} read={read}>
      {(known, at) => (
        <>
          <NewPlan {...known} {...at} />
        </>
      )}
    </Page>
  );
}

function NewPlan({ workshop, model, formatter }: At & { workshop: Workshop; model: Plan | null }) {
  const { route } = useLocation();
  const name = model ? `${NEW} ${model.id}` : NEW;
  const [kept] = useState(() => loadDraft(name));
  const [start] = useState<Draft>(() => kept?.draft ?? beginning(model, workshop));
  const lacks = missing(workshop);
  return (
    <>
      <p class="answer">
        {model
          ? `As “${model.name}”, until you change it.`
          : 'First what is made, then the terms. The figures filled in are typical; change what is different for you.'}
      </p>
      {kept && <p class="done">What you had typed is here again; it is not kept by the studio yet.</p>}
      {lacks && <p class="amber">{lacks}</p>}
      <PlanForm
        {...{ start, workshop, formatter }}
        verb="Save plan"
        over={name}
        onTyped={(draft) => {
          if (draft !== start || kept) saveDraft(name, { opened: null, draft });
        }}
        save={async (body, headers) => (await api.POST('/api/course-plans', { body, headers })).data as Plan}
        onSaved={({ id }) => {
          deleteDraft(name);
          route(`/courses/plans/${id}`);
        }}
        onLeave={() => {
          deleteDraft(name);
          route(model ? `/courses/plans/${model.id}` : '/courses/plans');
        }}
      />
    </>
  );
}

function beginning(model: Plan | null, workshop: Workshop): Draft {
  return model ? { ...draftOf(model, workshop), name: '' } : emptyDraft(workshop);
}

/** What must be entered elsewhere before a plan can be fired or made of anything. */
function missing({ materials, kilns, schedules }: Workshop): string {
  const lacks = [
    materials.every(({ kind }) => kind !== 'clay') && 'no clay',
    kilns.length === 0 && 'no kiln',
    schedules.length === 0 && 'no firing schedule',
  ].filter((part) => part !== false);
  if (lacks.length === 0) return '';
  return `The studio has ${lacks.join(', ')} yet. Add them under Shelf and Kilns; a plan in which nothing is made or fired can be saved without them.`;
}
