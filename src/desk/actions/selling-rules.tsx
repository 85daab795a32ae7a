import { CheckboxField } from '../forms/checkbox-field';

/** What the owner says so that places are booked all the same. */
export type NamedActs = { outsideWindow?: true; agesConfirmed?: true };

const ACTS = [
  ['outsideWindow', '/problems/not-bookable', 'Book all the same, outside the days of booking'],
  ['agesConfirmed', '/problems/age-limit', 'Everyone who comes is of the age for this course'],
] as const;

type Props = {
  acts: NamedActs;
  onActs(acts: NamedActs): void;
  /** the refusal that one of them overrules; without it, those that are ticked are shown */
  refused?: string;
};

/** The named acts by which a rule of a course is overruled: shown once it was refused, and as long as it is ticked. */
export function SellingRules({ acts, onActs, refused }: Props) {
  const shown = ACTS.filter(([act, type]) => (refused === undefined ? acts[act] : type === refused));
  return (
    <>
      {shown.map(([act, , label]) => (
        <CheckboxField
          key={act}
          checked={acts[act] === true}
          onChange={(checked) => {
            const { [act]: _, ...others } = acts;
            onActs(checked ? { ...others, [act]: true } : others);
          }}
        >
          {label}
        </CheckboxField>
      ))}
    </>
  );
}
