import type { ComponentChildren } from 'preact';
import { useContext, useState } from 'preact/hooks';
import { CheckboxField } from '../../../forms/checkbox-field';
import { Faults, Field } from '../../../forms/field';
import { Lines } from '../../../forms/repeated-fields';
import { type Draft, keyed, type PartLine, type SoldLine } from './form-values';
import type { Workshop } from './queries';
import { named } from './recipe-fields';
import { SecondTutor } from './second-tutor';

type Props = { draft: Draft; workshop: Workshop; set(change: Partial<Draft>): void };

/** What few plans need: closed, unless it says something or something in it is wrong. */
export function MoreTerms({ draft, workshop, set }: Props) {
  const { currency } = workshop.studio;
  const isNothing = (amount: string) => !/[1-9]/.test(amount);
  return (
    <>
      {draft.kind !== 'private' && (
        <Seldom called="Concessions" of={['soldAt']} says={draft.soldAt.length > 0}>
          <SoldAt {...{ draft, workshop, set }} />
        </Seldom>
      )}
      <Seldom called="A second tutor" of={['secondTutor']} says={draft.hasSecond}>
        <SecondTutor {...{ draft, workshop, set }} />
      </Seldom>
      <Seldom
        called="Advertising, and costs you can’t recover if it is cancelled"
        of={['advertisingMinor', 'sunkIfCancelledMinor']}
        says={!isNothing(draft.advertising) || !isNothing(draft.sunkIfCancelled)}
      >
        <div class="figures broad">
          <Field
            at="#/advertisingMinor"
            label={`Advertising, ${currency}`}
            value={draft.advertising}
            onChange={(advertising) => set({ advertising })}
            figures
          />
          <Field
            at="#/sunkIfCancelledMinor"
            label={`Costs you can’t recover if cancelled, ${currency}`}
            value={draft.sunkIfCancelled}
            onChange={(sunkIfCancelled) => set({ sunkIfCancelled })}
            figures
          />
        </div>
      </Seldom>
      <Seldom
        called="Firing, payments and VAT"
        of={[
          'wholeLoads',
          'firingIncludedLitres',
          'payments',
          'balancePayments',
          'balanceEveryDays',
          'parts',
          'restLabel',
        ]}
        says={
          draft.wholeLoads ||
          draft.firingIncludedLitres !== '' ||
          draft.parts.length > 0 ||
          draft.balancePayments !== '1'
        }
      >
        <CheckboxField checked={draft.wholeLoads} onChange={(wholeLoads) => set({ wholeLoads })}>
          The course pays for whole kiln loads, as many as it takes when full
        </CheckboxField>
        <Payments {...{ draft, set }} />
        <Parts {...{ draft, workshop, set }} />
      </Seldom>
    </>
  );
}

type SeldomProps = { called: string; of: string[]; says: boolean; children: ComponentChildren };

function Seldom({ called, of, says, children }: SeldomProps) {
  const [begins] = useState(says); // what is typed doesn't shut it again
  const faults = [...useContext(Faults).keys()];
  const isWrong = of.some((field) => faults.some((at) => at === `#/${field}` || at.startsWith(`#/${field}/`)));
  return (
    <details class="seldom" open={begins || isWrong}>
      <summary>{called}</summary>
      {children}
    </details>
  );
}

function SoldAt({ draft, workshop: { studio }, set }: Props) {
  return (
    <Lines<SoldLine>
      list="soldAt"
      legend="Concessions: their price, and the share of places expected at it"
      called="Price"
      lines={draft.soldAt}
      add={{
        label: 'Add a price below the full one',
        line: () => keyed({ label: '', sharePercent: '10', pricePercent: '90', less: '', payments: '' }),
      }}
      most={10}
      none="All places go at the full price."
      onLines={(soldAt) => set({ soldAt })}
    >
      {(line, change, i) => (
        <div class="figures">
          <Field
            at={`#/soldAt/${i}/label`}
            label="For whom"
            wide
            value={line.label}
            hint="For example, members."
            onChange={(label) => change({ label })}
          />
          <Field
            at={`#/soldAt/${i}/sharePercent`}
            label="Share of places, %"
            value={line.sharePercent}
            onChange={(sharePercent) => change({ sharePercent })}
            figures
          />
          <Field
            at={`#/soldAt/${i}/pricePercent`}
            label="Of the price, %"
            value={line.pricePercent}
            onChange={(pricePercent) => change({ pricePercent })}
            figures
          />
          <Field
            at={`#/soldAt/${i}/lessMinor`}
            label={`Then minus (${studio.currency}`}
            value={line.less}
            onChange={(less) => change({ less })}
            figures
          />
          <Field
            at={`#/soldAt/${i}/payments`}
            label="Payments"
            value={line.payments}
            hint="Empty: as everybody."
            onChange={(payments) => change({ payments })}
            figures
          />
        </div>
      )}
    </Lines>
  );
}

function Payments({ draft, set }: Omit<Props, 'workshop'>) {
  return (
    <div class="figures broad">
      <Field
        at="#/firingIncludedLitres"
        label="Firing in the price, litres"
        value={draft.firingIncludedLitres}
        hint="Of each student’s ware; empty: all of it. What is beyond is billed with its firing."
        onChange={(firingIncludedLitres) => set({ firingIncludedLitres })}
        figures
      />
      <Field
        at="#/payments"
        label="Number of payments"
        value={draft.payments}
        hint="The deposit counted; card fees fall on each."
        onChange={(payments) => set({ payments })}
        figures
      />
      <Field
        at="#/balancePayments"
        label="Payments of the balance"
        value={draft.balancePayments}
        onChange={(balancePayments) => set({ balancePayments })}
        figures
      />
      <Field
        at="#/balanceEveryDays"
        label="Days between them"
        value={draft.balanceEveryDays}
        onChange={(balanceEveryDays) => set({ balanceEveryDays })}
        figures
      />
    </div>
  );
}

function Parts({ draft, workshop: { taxRates, studio }, set }: Props) {
  return (
    <>
      <Lines<PartLine>
        list="parts"
        legend="Parts of the price at another VAT rate"
        called="Part"
        lines={draft.parts}
        add={{
          label: 'Add a part with another VAT',
          line: () => keyed({ label: '', taxRateId: '', by: 'sum' as const, much: '' }),
        }}
        most={10}
        none="Nothing: rates and exemptions are your choice, with your accountant."
        onLines={(parts) => set({ parts })}
      >
        {(line, change, i) => (
          <div class="figures">
            <Field
              at={`#/parts/${i}/label`}
              label="What"
              wide
              value={line.label}
              hint="For example, a kit to take home."
              onChange={(label) => change({ label })}
            />
            <Field
              at={`#/parts/${i}/taxRateId`}
              label="Tax rate"
              wide
              value={line.taxRateId}
              choices={[['', 'Choose'], ...named(taxRates)]}
              onChange={(taxRateId) => change({ taxRateId })}
            />
            <Field
              at={`#/parts/${i}/by`}
              label="Given as"
              wide
              value={line.by}
              choices={[
                ['sum', 'a sum of each place'],
                ['share', 'a share of what is paid'],
              ]}
              onChange={(by) => change({ by })}
            />
            <Field
              at={`#/parts/${i}/${line.by === 'sum' ? 'amountMinor' : 'sharePercent'}`}
              label={line.by === 'sum' ? `So much, ${studio.currency}` : 'So much, %'}
              value={line.much}
              onChange={(much) => change({ much })}
              figures
            />
          </div>
        )}
      </Lines>
      {draft.parts.length > 0 && (
        <Field
          at="#/restLabel"
          label="What the rest of the price is for"
          wide
          value={draft.restLabel}
          hint="For example, materials. Receipts name it."
          onChange={(restLabel) => set({ restLabel })}
        />
      )}
    </>
  );
}
