import { Disclosure } from '../../../ui/disclosure';
import type { Words } from './labels';
import type { Calculation } from './recalculate';

/** What the drawing rests on: how many come, how sure that is, and what happens when too few do. */
export function EnrolmentNote({
  calculation,
  words: { moneyInText: money, percent },
}: {
  calculation: Calculation;
  words: Words;
}) {
  const { inputs, result, asked } = calculation;
  const { kind, detail } = inputs.enrolment.source;
  return (
    <Disclosure late title="How many come" note="and how to read the drawings">
      <p class="quiet">
        Until its costs are covered the course costs you money, on average; from there on it pays you something, and
        from the next mark on your {money(inputs.wagePerHourMinor)} an hour. From the fair price on it leaves the
        surplus that you want, at the risk that you accept.
      </p>
      <p class="quiet">
        The wider the column, the more likely that number of students.{' '}
        {inputs.minimum === 0
          ? `The studio is open with nobody too; that happens ${percent(result.enrolmentProbabilities[0] ?? '0')} of the time.`
          : `Dashed: fewer than ${inputs.minimum}, so the course does not run and fees go back; that happens ${percent(result.probabilityCancelled)} of the time and loses ${money(result.sunkIfCancelledMinor)}.`}
      </p>
      {asked.negativeAgainAt.length > 0 && (
        <p class="amber">
          With {asked.negativeAgainAt.join(', ')} your time is not paid in full again, as a second tutor must be paid.
        </p>
      )}
      <p class="quiet">
        How many come: {kind === 'assumption' && <b class="amber">assumption. </b>}
        {detail}
      </p>
    </Disclosure>
  );
}
