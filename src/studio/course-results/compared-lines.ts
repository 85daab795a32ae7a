import { Decimal } from '../../trade/money/money.js';
import { SOLD_BY } from '../../trade/money/sale-units.js';
import type { PriceInputs } from '../../trade/pricing/course-price.js';
import type { ComparedLine, PlanLine } from '../../trade/pricing/variance.js';
import type { Course } from '../courses/contract.js';
import type { Plan } from '../courses/plan-contract.js';
import type { Material } from '../materials/contract.js';
import type { CourseRecord } from './course-records.js';
import type { WorkKind } from './hours-contract.js';

type Real = { quantity: Decimal | number; amountMinor: Decimal | number; detail: string };

/** Something real is known, or it is said how to know it. */
export function withActual(line: PlanLine, real: Real | null, howToKnow: string): ComparedLine {
  if (!real) return { ...line, real, howToKnow };
  const quantity = new Decimal(real.quantity).toFixed();
  const amountMinor = new Decimal(real.amountMinor).toFixed();
  return { ...line, real: { quantity, amountMinor, detail: real.detail }, howToKnow: null };
}

const NOTHING = { quantity: '0', amountMinor: '0' };
const inHours = (minutes: number): Decimal => new Decimal(minutes).div(60).toDecimalPlaces(6);
const planned = (line: PlanLine, quantity: Decimal, rateMinor: string | number): PlanLine => ({
  ...line,
  quantity: quantity.toFixed(),
  amountMinor: quantity.times(rateMinor).toFixed(),
});

/** A line of a plan that draws a material, or takes off what comes back of it as reclaim. */
export type MaterialLine = Extract<PlanLine, { kind: 'material' }>;
export type FiringLine = Extract<PlanLine, { kind: 'firing' }>;

/**
 * What was drawn of each material for the course, at what its lots cost, and apart from it what came back; also of those that the plan
 * doesn't name.
 */
export function comparedMaterialLines(
  plan: readonly MaterialLine[],
  record: CourseRecord,
  materials: ReadonlyMap<string, Material>,
): ComparedLine[] {
  const { drawn, reclaimed } = record;
  const named = new Set(plan.map(({ materialId }) => materialId));
  const unplanned = (
    ids: Iterable<string>,
    called: (m: Material) => Pick<MaterialLine, 'key' | 'label' | 'isReclaim'>,
  ) =>
    [...ids].flatMap((id): MaterialLine[] => {
      const found = materials.get(id);
      if (!found) return [];
      const line = { kind: 'material', materialId: id, use: 'other', ...called(found) } as const;
      return [{ ...line, side: 'cost', unit: SOLD_BY[found.unit].unit, ...NOTHING }];
    });
  const others = unplanned(
    [...drawn.keys()].filter((id) => !named.has(id)),
    ({ id, name }) => ({ key: `other-${id}`, label: name, isReclaim: false }),
  );
  const planned = [...plan, ...others];
  const back = new Set(planned.filter(({ isReclaim }) => isReclaim).map(({ materialId }) => materialId));
  const othersBack = unplanned(
    [...reclaimed.keys()].filter((id) => !back.has(id)),
    ({ id, name }) => ({ key: `other-${id}-reclaim`, label: `${name}, reclaimed`, isReclaim: true }),
  );
  return [...planned, ...othersBack].map((line) =>
    line.isReclaim ? reclaimLine(line, record, materials) : drawnLine(line, record, named, materials),
  );
}

function drawnLine(
  line: MaterialLine,
  { drawn }: CourseRecord,
  named: ReadonlySet<string>,
  materials: ReadonlyMap<string, Material>,
): ComparedLine {
  const found = materials.get(line.materialId);
  const taken = found && drawnOf(drawn, found, named, materials);
  const per = SOLD_BY[found?.unit ?? 'g'].per;
  const free = taken && taken.freeQuantity > 0 ? ', part of it from lots without a cost' : '';
  const detail =
    taken === NONE
      ? `Another ${found?.kind} was weighed out, which the plan doesn't name, and none of this.`
      : `Weighed out for the course: first in, first out by lot${free}.`;
  return withActual(
    line,
    taken ? { quantity: new Decimal(taken.quantity).div(per), amountMinor: taken.costMinor, detail } : null,
    'None of it was weighed out for this course. Note what it used.',
  );
}

/** What came back is taken off, as it is in the plan: reclaim is compared with reclaim, and what was weighed out with that. */
function reclaimLine(
  line: MaterialLine,
  { reclaimed }: CourseRecord,
  materials: ReadonlyMap<string, Material>,
): ComparedLine {
  const back = reclaimed.get(line.materialId);
  const per = SOLD_BY[materials.get(line.materialId)?.unit ?? 'g'].per;
  const real = back && {
    ...{ quantity: new Decimal(back.quantity).div(per).neg(), amountMinor: 0 - back.worthMinor },
    detail: 'Back on the shelf, at the mean cost of what was weighed out for the course.',
  };
  return withActual(
    line,
    real ?? null,
    'Nothing is noted as back on the shelf from this course. Note it once it is worked up.',
  );
}

const NONE = { quantity: 0, costMinor: 0, freeQuantity: 0 };

/**
 * What a course drew of a material; nothing is known of what nobody weighed out. That none was taken is known only where another of
 * its kind was taken in its stead: of a material that the plan names, one that it doesn't; of one that it doesn't name, any.
 */
export function drawnOf(
  drawn: CourseRecord['drawn'],
  { id, kind }: Pick<Material, 'id' | 'kind'>,
  named: ReadonlySet<string>,
  materials: ReadonlyMap<string, Pick<Material, 'kind'>>,
): typeof NONE | undefined {
  const instead = [...drawn.keys()].some(
    (other) => materials.get(other)?.kind === kind && !(named.has(id) && named.has(other)),
  );
  return drawn.get(id) ?? (instead ? NONE : undefined);
}

/** One line for each kind of firing: the plan's by their share of a load at the usual fill, the real ones by that of what was in. */
export function comparedFiringLines(plan: readonly FiringLine[], record: CourseRecord): ComparedLine[] {
  return (['bisque', 'glaze', 'lustre'] as const).flatMap((kind) => {
    const lines = plan.filter(({ firing }) => firing?.kind === kind);
    const fired = record.fired.get(kind);
    const unsettled = [...(record.unsettled.get(kind) ?? [])];
    if (lines.length === 0 && !fired && unsettled.length === 0) return [];
    const total = (of: 'quantity' | 'amountMinor') =>
      lines.reduce((sum, line) => sum.plus(line[of]), new Decimal(0)).toFixed();
    const line: PlanLine = {
      ...{
        kind: 'firing',
        firing: null,
        wholeLoads: false,
        key: `firing-${kind}`,
        label: `${LABEL[kind]} firing`,
        side: 'cost',
        unit: 'kiln load',
      },
      ...{ quantity: total('quantity'), amountMinor: total('amountMinor') },
    };
    const howToKnow =
      unsettled.length > 0
        ? `${numbered(unsettled)} not settled yet. Work out the fees first.`
        : `No piece of this course is noted in a ${kind} firing. Take its ware in as the course's, and load it into a firing.`;
    if (!fired || unsettled.length > 0) return [withActual(line, null, howToKnow)];
    const full = fired.fillPercents.map((percent) => `${percent.toDecimalPlaces(0).toFixed()}%`).join(', ');
    const detail = `${numbered(fired.numbers)} settled: ${fired.kwh.toDecimalPlaces(1).toFixed()} kWh by the meter for this course's pieces, with wear. They carry their share of what was in the kiln, which was ${full} full; the price uses its usual fill. Your time is a line of its own; a bill to a maker includes it.`;
    return [withActual(line, { quantity: fired.loads, amountMinor: fired.energyAndWearMinor, detail }, '')];
  });
}

const LABEL = { bisque: 'Bisque', glaze: 'Glaze', lustre: 'Lustre' } as const;
const numbered = (numbers: readonly number[]): string =>
  numbers.length === 1 ? `Firing ${numbers[0]} is` : `Firings ${[...numbers].sort((a, b) => a - b).join(', ')} are`;

/** The room during the sessions, as they were held, and before and after them, as preparing and clearing were noted. */
export function roomLines(
  room: PlanLine,
  plan: Plan,
  sessions: Course['sessions'],
  record: CourseRecord,
  rateMinor: string,
): ComparedLine[] {
  const around = inHours(plan.sessions.reduce((sum, s) => sum + s.prepareMinutes + s.clearMinutes, 0));
  const minutes = sessions.reduce(
    (sum, { startsAt, endsAt }) => sum + (Date.parse(endsAt) - Date.parse(startsAt)) / 60_000,
    0,
  );
  const at = (quantity: Decimal, detail: string): Real => ({
    quantity,
    amountMinor: quantity.times(rateMinor),
    detail,
  });
  const course = at(inHours(minutes), `${sessions.length} of ${plan.sessions.length} sessions have taken place.`);
  const noted = record.aroundMinutes;
  return [
    withActual(
      { ...planned(room, new Decimal(room.quantity).minus(around), rateMinor), label: `${room.label}, in sessions` },
      course,
      '',
    ),
    withActual(
      { ...planned(room, around, rateMinor), key: 'room-around', label: `${room.label}, before and after` },
      noted ? at(inHours(noted), 'By the hours noted as preparing and clearing.') : null,
      'No preparing or clearing was noted for this course. Note it under Your time.',
    ),
  ];
}

/** The owner's time: each line as noted, at the wage that the plan reckoned with. */
export function timeLines(
  time: PlanLine,
  plan: Plan,
  record: CourseRecord,
  inputs: Pick<PriceInputs, 'wagePerHourMinor' | 'ownerHours'>,
): ComparedLine[] {
  const minutesOf = (what: 'prepareMinutes' | 'clearMinutes') =>
    inHours(plan.sessions.reduce((sum, session) => sum + session[what], 0));
  const [preparing, clearing] = [minutesOf('prepareMinutes'), minutesOf('clearMinutes')];
  const perStudents = new Decimal(time.quantity).minus(inputs.ownerHours);
  const beside = inHours(plan.otherMinutes).plus(perStudents);
  const teaching = new Decimal(time.quantity).minus(preparing).minus(clearing).minus(beside); // the rest, so that all add up
  return OWN_TIME.map(({ key, label, works }) => {
    const hours = { teaching, preparing, clearing, beside }[key];
    const line = {
      ...planned(time, hours, inputs.wagePerHourMinor),
      key: `own-time-${key}`,
      label: `Your time, ${label}`,
    };
    const minutes = works.reduce((sum, work) => sum + (record.minutes.get(work) ?? 0), 0);
    const real = inHours(minutes);
    return withActual(
      line,
      minutes > 0
        ? {
            quantity: real,
            amountMinor: real.times(inputs.wagePerHourMinor),
            detail: 'As noted, at the wage of the plan.',
          }
        : null,
      `No time was noted for this course as ${works.join(', ')}. Note it under Your time.`,
    );
  });
}

/** What of the owner's time a plan knows, and which notes it is held against. */
export const OWN_TIME: readonly {
  key: 'teaching' | 'preparing' | 'clearing' | 'beside';
  label: string;
  works: WorkKind[];
}[] = [
  { key: 'teaching', label: 'teaching', works: ['teaching'] },
  { key: 'preparing', label: 'preparing', works: ['preparing'] },
  { key: 'clearing', label: 'clearing', works: ['clearing'] },
  { key: 'beside', label: 'kiln, messages and the rest', works: ['kiln', 'messages', 'other'] },
];
