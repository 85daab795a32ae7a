import type { Schemas } from '../client';
import type { Tell } from '../tell';
import type { CourseDraft } from './course-body';
import { Chosen, Typed } from './entries';
import type { Places, Plan } from './read';
import { named } from './recipe-fields';

type Props = {
  draft: CourseDraft;
  set(change: Partial<CourseDraft>): void;
  plan: Plan;
  places: Places;
  taxRates: Schemas['TaxRate'][];
  fairPrice: number | null;
  tell: Tell;
};

/** At what price, for how many, and when it is paid. */
export function CourseTerms({ draft, set, plan, places, taxRates, fairPrice, tell }: Props) {
  const isGroup = plan.kind === 'private';
  return (
    <>
      <fieldset>
        <legend>At what price</legend>
        <div class="figures broad">
          <Typed
            at="#/title"
            label="Called"
            value={draft.title}
            words
            hint="As students read it."
            onType={(title) => set({ title })}
          />
          <Typed
            at="#/priceMinor"
            label={isGroup ? `The group pays, ${tell.currency}` : `A place costs, ${tell.currency}`}
            value={draft.price}
            hint={
              fairPrice === null ? 'VAT included.' : `VAT included. Held today it must cost ${tell.money(fairPrice)}.`
            }
            onType={(price) => set({ price })}
          />
          {isGroup && (
            <Typed
              at="#/perHeadAboveMinor"
              label={`Each head above ${plan.groupOf ?? 1}, ${tell.currency}`}
              value={draft.perHeadAbove}
              onType={(perHeadAbove) => set({ perHeadAbove })}
            />
          )}
          <Typed
            at="#/places"
            label={plan.kind === 'openStudio' ? 'Benches' : isGroup ? 'Heads at most' : 'Places'}
            value={draft.places}
            onType={(many) => set({ places: many })}
          />
          {plan.kind !== 'openStudio' && (
            <Typed
              at="#/minimum"
              label="Held from, students"
              value={draft.minimum}
              onType={(minimum) => set({ minimum })}
            />
          )}
        </div>
      </fieldset>
      <HowPaid {...{ draft, set, places, taxRates, tell }} />
    </>
  );
}

type PaidProps = Pick<Props, 'draft' | 'set' | 'places' | 'taxRates' | 'tell'>;

function HowPaid({ draft, set, places, taxRates, tell }: PaidProps) {
  return (
    <fieldset>
      <legend>How it is paid</legend>
      <div class="figures broad">
        <Typed
          at="#/depositMinor"
          label={`Deposit, ${tell.currency}`}
          value={draft.deposit}
          hint="Empty: none is asked for."
          onType={(deposit) => set({ deposit })}
        />
        <Typed
          at="#/holdHours"
          label="Held for it, hours"
          value={draft.holdHours}
          onType={(holdHours) => set({ holdHours })}
        />
        <Typed
          at="#/balanceDueDays"
          label="The rest is due, days before"
          value={draft.balanceDueDays}
          onType={(balanceDueDays) => set({ balanceDueDays })}
        />
        <Chosen
          at="#/taxRateId"
          label="Tax rate"
          value={draft.taxRateId}
          choices={[['', 'Choose'], ...named(taxRates)]}
          onChoose={(taxRateId) => set({ taxRateId })}
        />
        <Chosen
          at="#/refundPolicyId"
          label="Refunds"
          value={draft.refundPolicyId}
          choices={[['', 'Choose'], ...named(places.refundPolicies)]}
          onChoose={(refundPolicyId) => set({ refundPolicyId })}
        />
      </div>
    </fieldset>
  );
}
