import type { Schemas } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import type { CourseDraft } from './course-request-body';
import type { Places, Plan } from './queries';
import { named } from './recipe-fields';

type Props = {
  draft: CourseDraft;
  set(change: Partial<CourseDraft>): void;
  plan: Plan;
  places: Places;
  taxRates: Schemas['TaxRate'][];
  fairPrice: number | null;
  formatter: Formatter;
};

/** At what price, for how many, and when it is paid. */
export function CourseTerms({ draft, set, plan, places, taxRates, fairPrice, formatter }: Props) {
  const isGroup = plan.kind === 'private';
  return (
    <>
      <fieldset>
        <legend>At what price</legend>
        <div class="figures broad">
          <Field
            at="#/title"
            label="Called"
            value={draft.title}
            hint="As students read it."
            onChange={(title) => set({ title })}
          />
          <Field
            at="#/priceMinor"
            label={isGroup ? `The group pays, ${formatter.currency}` : `A place costs, ${formatter.currency}`}
            value={draft.price}
            hint={
              fairPrice === null
                ? 'VAT included.'
                : `VAT included. If it ran today, it must cost ${formatter.moneyInText(fairPrice)}.`
            }
            onChange={(price) => set({ price })}
            figures
          />
          {isGroup && (
            <Field
              at="#/perHeadAboveMinor"
              label={`Each person above ${plan.groupOf ?? 1}, ${formatter.currency}`}
              value={draft.perHeadAbove}
              onChange={(perHeadAbove) => set({ perHeadAbove })}
              figures
            />
          )}
          <Field
            at="#/places"
            label={plan.kind === 'openStudio' ? 'Benches' : isGroup ? 'People at most' : 'Places'}
            value={draft.places}
            onChange={(many) => set({ places: many })}
            figures
          />
          {plan.kind !== 'openStudio' && (
            <Field
              at="#/minimum"
              label="Minimum students"
              value={draft.minimum}
              onChange={(minimum) => set({ minimum })}
              figures
            />
          )}
        </div>
      </fieldset>
      <HowPaid {...{ draft, set, places, taxRates, formatter }} />
    </>
  );
}

type PaidProps = Pick<Props, 'draft' | 'set' | 'places' | 'taxRates' | 'formatter'>;

function HowPaid({ draft, set, places, taxRates, formatter }: PaidProps) {
  return (
    <fieldset>
      <legend>How it is paid</legend>
      <div class="figures broad">
        <Field
          at="#/depositMinor"
          label={`Deposit, ${formatter.currency}`}
          value={draft.deposit}
          hint="Empty: none is asked for."
          onChange={(deposit) => set({ deposit })}
          figures
        />
        <Field
          at="#/holdHours"
          label="Hold the place for (hours)"
          value={draft.holdHours}
          onChange={(holdHours) => set({ holdHours })}
          figures
        />
        <Field
          at="#/balanceDueDays"
          label="Balance due (days before the start)"
          value={draft.balanceDueDays}
          onChange={(balanceDueDays) => set({ balanceDueDays })}
          figures
        />
        <Field
          at="#/taxRateId"
          label="Tax rate"
          value={draft.taxRateId}
          choices={[['', 'Choose'], ...named(taxRates)]}
          onChange={(taxRateId) => set({ taxRateId })}
        />
        <Field
          at="#/refundPolicyId"
          label="Refunds"
          value={draft.refundPolicyId}
          choices={[['', 'Choose'], ...named(places.refundPolicies)]}
          onChange={(refundPolicyId) => set({ refundPolicyId })}
        />
      </div>
    </fieldset>
  );
}
