import { count, type Formatter } from '../../../format/formatter';
import { figure } from './labels';
import type { NextPlan } from './queries';

/** What the next plan should assume, by the courses that measured it. Nothing is changed by showing it. */
export function NextPlanTable({ next, formatter }: { next: NextPlan; formatter: Formatter }) {
  const measured = next.proposals.filter(({ mean }) => mean !== null);
  if (measured.length === 0) return null;
  return (
    <section>
      <table class="against proposed">
        <caption>
          What the next “{next.name}” should assume <span>by {count(next.courses, 'completed course')}</span>
        </caption>
        <thead>
          <tr>
            <th scope="col">Figure</th>
            <th scope="col" class="number">
              The plan
            </th>
            <th scope="col" class="number">
              Measured
            </th>
            <th scope="col" class="number">
              Propose
            </th>
            <th scope="col">Where it is set</th>
          </tr>
        </thead>
        <tbody>
          {measured.map((proposal) => {
            const { key, label, planned, mean, low, high, courses, proposed, detail } = proposal;
            const shown = (exact: string | null) => figure(exact, proposal, formatter);
            return (
              <tr key={key}>
                <th scope="row">{label}</th>
                <td class="number planned">{shown(planned)}</td>
                <td class="number real">
                  {shown(mean)}{' '}
                  <small>
                    {shown(low)} to {shown(high)}, {count(courses, 'course')}
                  </small>
                </td>
                <td class="number better">{shown(proposed)}</td>
                <td class="from">
                  <small>{detail}</small>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p class="quiet">
        With 8 chances in 10 the true average is in that range. The plan’s own figure counts as one more course, so even
        courses that are all alike leave some doubt. It changes nothing:{' '}
        <a href={`/courses/plans/${next.planId}`}>correct the plan</a> if you agree.
      </p>
    </section>
  );
}
