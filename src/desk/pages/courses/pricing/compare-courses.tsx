import { useEffect, useId, useState } from 'preact/hooks';
import { comparePrices } from '../../../../trade/pricing/compare-prices.js';
import { api, type Schemas, signInFirst } from '../../../api/client';
import { listCoursePlans } from '../../../api/lists';
import { Disclosure } from '../../../ui/disclosure';
import { CompareTable } from './compare-table';
import type { Words } from './labels';
import type { Calculation } from './recalculate';

type Priced = Pick<Schemas['PlanPrice'], 'title' | 'inputs' | 'result'>;
type Props = {
  courseId: string;
  title: string;
  courses: Schemas['CourseDates'][];
  calculation: Calculation;
  words: Words;
};
/** What it is compared with; null is nothing. */
type Chosen = { kind: 'course' | 'plan'; id: string } | null;
type Comparison = { at: 'none' } | { at: 'broken'; error: string } | { at: 'there'; other: Priced };

/** Another course or plan beside this one, once somebody asks for it. What is tried out counts. */
export function CompareCourses(props: Props) {
  return (
    <Disclosure late title="Compare with another course" note="what makes the one dearer than the other">
      <Choosing {...props} />
    </Disclosure>
  );
}

function Choosing({ courseId, title, courses, calculation, words }: Props) {
  const id = useId();
  const plans = usePlans();
  const [chosen, setChosen] = useState<Chosen>(null);
  const comparison = useComparison(chosen);
  const others = courses.filter((course) => course.id !== courseId && course.kind !== 'private');
  const choose = (chosenId: string) => {
    const kind = plans.some((plan) => plan.id === chosenId) ? 'plan' : 'course';
    setChosen(chosenId === '' ? null : { kind, id: chosenId });
  };
  const named = ({ title: called, sessions: [first] }: (typeof others)[number]) =>
    first ? `${called}, ${words.day(first.startsAt)}` : called;
  return (
    <>
      <div class="field choice no-paper">
        <label for={id}>Compare with</label>
        <select {...{ id, value: chosen?.id ?? '' }} onChange={(event) => choose(event.currentTarget.value)}>
          <option value="">Nothing</option>
          <optgroup label="Courses">
            {others.map((course) => (
              <option key={course.id} value={course.id}>
                {named(course)}
              </option>
            ))}
          </optgroup>
          <optgroup label="Plans, as if run today">
            {plans.map((plan) => (
              <option key={plan.id} value={plan.id}>
                {plan.name}
              </option>
            ))}
          </optgroup>
        </select>
      </div>
      {comparison.at === 'broken' && <p class="iron">{comparison.error}</p>}
      {comparison.at === 'there' && <Comparison {...{ title, calculation, words }} other={comparison.other} />}
    </>
  );
}

/** The button that opened it is gone, so that the choice takes its place for whoever uses the keyboard. */

function Comparison({
  title,
  calculation,
  other,
  words,
}: Pick<Props, 'title' | 'calculation' | 'words'> & { other: Priced }) {
  const compared = comparePrices(calculation.inputs, other.inputs);
  return <CompareTable first={{ title, ...calculation }} second={other} compared={compared} words={words} />;
}

function usePlans(): Schemas['CoursePlan'][] {
  const [plans, setPlans] = useState<Schemas['CoursePlan'][]>([]);
  useEffect(() => {
    listCoursePlans().then(
      (all) => setPlans(all.filter(({ kind }) => kind !== 'private')),
      (error) => signInFirst(error), // without the plans the courses can still be laid beside it
    );
  }, []);
  return plans;
}

function useComparison(chosen: Chosen): Comparison {
  const [comparison, setLaid] = useState<Comparison>({ at: 'none' });
  useEffect(() => {
    let current = true; // an answer that comes after another choice is not shown
    setLaid({ at: 'none' });
    if (chosen)
      read(chosen).then(
        (other) => current && setLaid({ at: 'there', other }),
        (error) => current && !signInFirst(error) && setLaid({ at: 'broken', error: (error as Error).message }),
      );
    return () => {
      current = false;
    };
  }, [chosen]);
  return comparison;
}

async function read({ kind, id }: NonNullable<Chosen>): Promise<Priced> {
  const { data } =
    kind === 'plan'
      ? await api.GET('/api/course-plans/{planId}/price', { params: { path: { planId: id } } })
      : await api.GET('/api/courses/{courseId}/price', { params: { path: { courseId: id } } });
  if (!data || data.kind === 'private') throw new Error('This has no price to compare with. Choose another.');
  return data;
}
