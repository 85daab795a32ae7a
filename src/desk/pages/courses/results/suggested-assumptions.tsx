import { count, type Formatter } from '../../../format/formatter';
import { type Column, DataTable } from '../../../ui/data-table';
import { figure } from './labels';
import type { NextPlan } from './queries';

type Proposal = NextPlan['proposals'][number];

/** What the next plan should assume, by the courses that measured it. Nothing is changed by showing it. */
export function NextPlanTable({ next, formatter }: { next: NextPlan; formatter: Formatter }) {
  const measured = next.proposals.filter(({ mean }) => mean !== null);
  if (measured.length === 0) return null;
  const columns: Column<Proposal>[] = [
    { head: 'Figure', cell: ({ label }) => label },
    { head: 'The plan', figures: true, cell: (proposal) => figure(proposal.planned, proposal, formatter) },
    {
      ...{ head: 'Measured', figures: true },
      cell: (proposal) => (
        <>
          {figure(proposal.mean, proposal, formatter)}{' '}
          <small>
            {figure(proposal.low, proposal, formatter)} to {figure(proposal.high, proposal, formatter)},{' '}
            {count(proposal.courses, 'course')}
          </small>
        </>
      ),
    },
    { head: 'Propose', figures: true, cell: (proposal) => figure(proposal.proposed, proposal, formatter) },
    { head: 'Where it is set', cell: ({ detail }) => <small>{detail}</small> },
  ];
  return (
    <section>
      <DataTable
        caption={
          <>
            What the next “{next.name}” should assume <span>by {count(next.courses, 'completed course')}</span>
          </>
        }
        captionShown
        columns={columns}
        rows={measured}
        keyOf={({ key }) => key}
      />
      <p class="quiet">
        With 8 chances in 10 the true average is in that range. The plan’s own figure counts as one more course, so even
        courses that are all alike leave some doubt. It changes nothing:{' '}
        <a href={`/courses/plans/${next.planId}`}>correct the plan</a> if you agree.
      </p>
    </section>
  );
}
