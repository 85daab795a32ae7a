import { formatMoneyInText } from '../../../../trade/money/money.js';
import { parseMoney } from '../../../../trade/text/parse-input.js';
import { CheckboxField } from '../../../forms/checkbox-field';
import { Field } from '../../../forms/field';
import type { Draft } from './form-values';
import { timeInWords } from './labels';
import type { Workshop } from './queries';
import { FEES, feeOf, minutesIn } from './tutor-fee';

type Props = { draft: Draft; workshop: Workshop; set(change: Partial<Draft>): void };

/** From how many students on a second tutor comes, and what they are paid. */
export function SecondTutor({ draft, workshop: { studio }, set }: Props) {
  return (
    <>
      <CheckboxField checked={draft.hasSecond} onChange={(hasSecond) => set({ hasSecond })}>
        A second tutor is needed
      </CheckboxField>
      {draft.hasSecond && (
        <>
          <div class="figures broad">
            <Field
              at="#/secondTutor/above"
              label="With more students than"
              value={draft.secondAbove}
              onChange={(secondAbove) => set({ secondAbove })}
              figures
            />
            <Field
              at="#/secondTutor/feeMinor"
              label={`Their fee, ${studio.currency}`}
              value={draft.secondFee}
              onChange={(secondFee) => set({ secondFee })}
              figures
            />
            <Field
              label="The fee is for"
              choices={FEES}
              value={draft.secondPer ?? 'course'}
              onChange={(secondPer) => set({ secondPer })}
            />
          </div>
          <p class="quiet" role="status">
            {feeInWords(draft, studio)}
          </p>
        </>
      )}
    </>
  );
}

/** "£18 × 4 h 30 min in sessions: £81 for the whole course." Nothing where it is for the whole course, or can't be read yet. */
function feeInWords(draft: Draft, { currency, locale }: Workshop['studio']): string {
  const { secondPer = 'course', sessions } = draft;
  if (secondPer === 'course') return '';
  try {
    const typedMinor = parseMoney(draft.secondFee, currency);
    const money = (minor: number) => formatMoneyInText(minor, currency, locale);
    const times = secondPer === 'hour' ? `${timeInWords(minutesIn(draft))} in sessions` : `${sessions.length} sessions`;
    return `${money(typedMinor)} × ${times}: ${money(feeOf(draft, typedMinor))} for the whole course.`;
  } catch {
    return '';
  }
}
