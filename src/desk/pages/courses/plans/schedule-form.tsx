import { useEffect, useState } from 'preact/hooks';
import { api, type Schemas } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { Faults } from '../../../forms/field';
import { FormErrors } from '../../../forms/form-errors';
import type { FieldFault } from '../../../forms/parse';
import { usePlanPrice } from '../plan-price';
import type { Paced } from './calendar-dates';
import { type CourseDraft, courseBody, courseDraft } from './course-request-body';
import { CourseTerms } from './course-terms';
import { recipeOf } from './derived-requirements';
import { faultsIn, placeOf } from './field-labels';
import type { Places, Plan, Workshop } from './queries';
import { SessionDates } from './session-dates';

type Props = {
  plan: Plan;
  workshop: Workshop;
  places: Places;
  formatter: Formatter;
  /** in the order of their days */
  onDone(courses: Schemas['Course'][]): void;
  onLeave(): void;
};

/** Gives a plan its dates, its price and its places. */
export function CalendarForm({ plan, workshop, places, formatter, onDone, onLeave }: Props) {
  const { studio, taxRates } = workshop;
  const [draft, setDraft] = useState<CourseDraft>(() => courseDraft(plan, places, studio.currency));
  const [faults, setFaults] = useState<FieldFault[]>([]);
  const deed = useMutation({ thenRead: true });
  const set = (change: Partial<CourseDraft>) => setDraft((before) => ({ ...before, ...change }));
  const fairPrice = useFairPrice(plan, draft.taxRateId, (taxRateId) => set({ taxRateId }));
  const { timeZone } = studio;
  const paced: Paced = { recipe: recipeOf(plan, workshop), minutes: plan.sessions.map((one) => one.minutes), timeZone };
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const { body, faults } = courseBody(draft, plan, paced, studio.currency);
    setFaults(faults);
    if (faults.length > 0) return deed.refuse('Nothing was sent yet.');
    const [first, ...others] = body.sessions;
    const isSeries = plan.sessions.length === 1 && others.length > 0;
    let made: Schemas['Course'][] = [];
    const done = await deed.run(body, async (headers) => {
      try {
        if (isSeries && first) {
          const courses = [first, ...others].map((session) => ({ ...body, sessions: [session] }));
          made = (await api.POST('/api/course-series', { body: { courses }, headers })).data?.items ?? [];
        } else made = [(await api.POST('/api/courses', { body, headers })).data].filter((one) => one !== undefined);
      } catch (error) {
        setFaults(faultsIn(error));
        throw error;
      }
    });
    if (done && made.length > 0) onDone(made);
  };
  return (
    <Faults.Provider value={new Map(faults.map(({ pointer, detail }) => [pointer, detail]))}>
      <form class="raised dating" onSubmit={submit} noValidate aria-label="Put it in the calendar">
        <SessionDates {...{ draft, set, paced, plan, places, formatter }} />
        <CourseTerms {...{ draft, set, plan, places, taxRates, fairPrice, formatter }} />
        {deed.error && <FormErrors error={deed.error} faults={faults} labelOf={placeOf} />}
        <p class="acts">
          <button type="submit" aria-disabled={deed.busy}>
            Put it in the calendar
          </button>
          <button type="button" class="quiet" onClick={onLeave}>
            Cancel
          </button>
        </p>
      </form>
    </Faults.Provider>
  );
}

/** What a place would have to cost today at a tax rate; null where that can't be said, as of a group. The plan's page says why. */
function useFairPrice(plan: Plan, taxRateId: string, onRate: (taxRateId: string) => void): number | null {
  const { data: price } = usePlanPrice(plan, taxRateId);
  const usualRateId = taxRateId === '' ? price?.taxRateId : undefined; // the studio's latest, where none is chosen yet
  useEffect(() => {
    if (usualRateId) onRate(usualRateId);
  }, [usualRateId]);
  return price?.result.fairPriceMinor ?? null;
}
