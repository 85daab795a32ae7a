import { useCallback, useState } from 'preact/hooks';
import { comparePrices } from '../../../../trade/pricing/compare-prices.js';
import { api, type Schemas, signInFirst } from '../../../api/client';
import { type CoursesFound, listCoursePlans } from '../../../api/lists';
import { useQuery } from '../../../api/query';
import { Field } from '../../../forms/field';
import { Disclosure } from '../../../ui/disclosure';
import { getPlanPrice } from '../plan-price';
import { CompareTable } from './compare-table';
import type { Words } from './labels';
import type { Calculation } from './recalculate';

type Priced = Pick<Schemas['PlanPrice'], 'title' | 'inputs' | 'result'>;
type Props = {
  courseId: string;
  title: string;
  courses: CoursesFound;
  calculation: Calculation;
  words: Words;
};
/** What it is compared with; null is nothing. */
type Chosen = { kind: 'course' | 'plan'; id: string } | null;

/** Another course or plan beside this one, once somebody asks for it. What is tried out counts. */
export function CompareCourses(props: Props) {
  return (
    <Disclosure late title="Compare with another course" note="what makes the one dearer than the other">
      <Choosing {...props} />
    </Disclosure>
  );
}

function Choosing({ courseId, title, courses, calculation, words }: Props) {
  const plans = usePlans();
  const [chosen, setChosen] = useState<Chosen>(null);
  const { data: other, error } = useComparison(chosen);
  const others = courses.items.filter((course) => course.id !== courseId && course.kind !== 'private');
  const choose = (chosenId: string) => {
    const kind = plans.some((plan) => plan.id === chosenId) ? 'plan' : 'course';
    setChosen(chosenId === '' ? null : { kind, id: chosenId });
  };
  const named = ({ title: called, sessions: [first] }: (typeof others)[number]) =>
    first ? `${called}, ${words.day(first.startsAt)}` : called;
  return (
    <>
      <div class="choice no-paper">
        <Field
          label="Compare with"
          hint={courses.hasMore ? 'Of the courses only the next ones are offered.' : undefined}
          value={chosen?.id ?? ''}
          choices={[['', 'Nothing']]}
          groups={[
            { label: 'Courses', choices: others.map((course) => [course.id, named(course)]) },
            { label: 'Plans, as if run today', choices: plans.map(({ id, name }) => [id, name]) },
          ]}
          onChange={choose}
        />
      </div>
      {error && <p class="iron">{error.message}</p>}
      {chosen && other && <Comparison {...{ title, calculation, words, other }} />}
    </>
  );
}

function Comparison({
  title,
  calculation,
  other,
  words,
}: Pick<Props, 'title' | 'calculation' | 'words'> & { other: Priced }) {
  const compared = comparePrices(calculation.inputs, other.inputs);
  return <CompareTable first={{ title, ...calculation }} second={other} compared={compared} words={words} />;
}

/** Without the plans there are still the courses to compare with. */
function usePlans(): Schemas['CoursePlan'][] {
  const { data = [], error } = useQuery({ key: ['course plans'], read: listCoursePlans });
  if (error) signInFirst(error);
  return data.filter(({ kind }) => kind !== 'private');
}

function useComparison(chosen: Chosen) {
  const { kind, id } = chosen ?? { kind: 'course', id: '' };
  const read = useCallback((signal: AbortSignal) => getPriceOf(kind, id, signal), [kind, id]);
  const comparison = useQuery({ key: ['price to compare with', kind, id], read, enabled: chosen !== null });
  if (comparison.error) signInFirst(comparison.error);
  return comparison;
}

async function getPriceOf(kind: 'course' | 'plan', id: string, signal: AbortSignal): Promise<Priced> {
  if (kind === 'plan') return getPlanPrice(id, '', signal);
  const { data } = await api.GET('/api/courses/{courseId}/price', { params: { path: { courseId: id } }, signal });
  if (!data || data.kind === 'private') throw new Error('This has no price to compare with. Choose another.');
  return data;
}
