import type { ComponentChildren } from 'preact';
import { api, type Schemas } from '../../../api/client';
import type { Headers } from '../../../api/idempotency-key';
import { answered, type Basic, type Context, type Values } from '../../../basics/basic';
import { BasicForm } from '../../../basics/basic-form';
import { KILNS } from '../../../basics/kilns';
import { FIRST_CLAY, FIRST_GLAZE, MATERIALS } from '../../../basics/materials';
import { addNoting } from '../../../basics/note-assumptions';
import { REFUND_POLICIES } from '../../../basics/refund-policies';
import { ROOMS } from '../../../basics/rooms';
import { FIRST_SCHEDULES } from '../../../basics/schedules';
import { TARIFFS } from '../../../basics/tariffs';
import { TAX_CHOICE } from '../../../basics/tax';

/** What a studio has already, as far as a first price needs it. */
export type Known = {
  rooms: Schemas['Room'][];
  kilns: Schemas['Kiln'][];
  schedules: Schemas['Schedule'][];
  rates: Schemas['TaxRate'][];
  studio: Schemas['Studio'];
  policies: Schemas['RefundPolicy'][];
  tariffs: Schemas['Tariff'][];
  materials: Schemas['StockedMaterial'][];
};

export async function readKnown(): Promise<Known> {
  const [rooms, kilns, schedules, rates, studio, policies, tariffs, materials] = await Promise.all([
    ...([ROOMS.list(), KILNS.list(), FIRST_SCHEDULES.list(), TAX_CHOICE.list()] as const),
    api.GET('/api/studio').then(answered),
    ...([REFUND_POLICIES.list(), TARIFFS.list(), MATERIALS.list()] as const),
  ]);
  return { rooms, kilns, schedules, rates, studio, policies, tariffs, materials };
}

/** One button of a view is filled: that of the step that comes next. */
type FormProps = { context: Context; quiet: boolean; onSaved(): void; onTyped(values: Values): void };
export type Step = {
  title: string;
  why: string;
  /** what is there of it already, in words; null: nothing yet */
  done(known: Known): string | null;
  form(props: FormProps): ComponentChildren;
  /** Saves it as it is typed, or as it is usual. */
  save(values: Values | undefined, headers: Headers, context: Context): Promise<unknown>;
};

const step = <T extends { id: string }>(title: string, why: string, basic: Basic<T>, done: Step['done']): Step => ({
  ...{ title, why, done },
  form: (props) => <BasicForm basic={basic} save={`Save ${title.toLowerCase()}`} {...props} />,
  save: (values, headers, context) => addNoting(basic, values ?? basic.usual(context), headers, context),
});

const namesOf = (items: readonly { name: string }[]): string | null =>
  items.length > 0 ? items.map(({ name }) => name).join(', ') : null;

function taxIn({ studio, rates }: Known): string | null {
  if (studio.vatNumber !== null) return `Registered, ${studio.vatNumber}`;
  return rates.find(({ id }) => id === studio.firingTaxRateId)?.kind === 'outside' ? 'Not registered' : null;
}

/** In the order in which an owner thinks of them. */
export const STEPS: readonly Step[] = [
  step('Room', 'Courses take place in it.', ROOMS, ({ rooms }) => namesOf(rooms)),
  step('Kiln', 'By its size and power a firing is priced.', KILNS, ({ kilns }) => namesOf(kilns)),
  step('Firings', 'A bisque and a glaze firing, with usual segments.', FIRST_SCHEDULES, ({ schedules }) =>
    schedules.some(({ kind }) => kind === 'bisque') && schedules.some(({ kind }) => kind === 'glaze')
      ? namesOf(schedules)
      : null,
  ),
  step('Tax', 'Ask your accountant where you are not sure.', TAX_CHOICE, taxIn),
  step('Refunds', 'What people get back when they cancel.', REFUND_POLICIES, ({ policies }) => namesOf(policies)),
  step('Electricity', 'What a kilowatt-hour costs you.', TARIFFS, ({ tariffs }) => namesOf(tariffs)),
  step('Clay', 'The one you use most.', FIRST_CLAY, ({ materials }) =>
    namesOf(materials.filter(({ kind }) => kind === 'clay')),
  ),
  step('Glaze', 'The one you use most.', FIRST_GLAZE, ({ materials }) =>
    namesOf(materials.filter(({ kind }) => kind === 'glaze')),
  ),
];
