import { once, type Transaction } from '../../database/transaction.js';
import { ELEMENT_DUTY, kwhPerLitre, MONITORED_KWH_PER_LITRE, predictedKwh } from '../../trade/firing/energy.js';
import type { UsualFill } from '../../trade/firing/kiln-fill.js';
import { type FiringKind, ROOM_RULE } from '../../trade/firing/kiln-room.js';
import { spreadKwh, tariffCostMinor } from '../../trade/firing/tariff.js';
import { Decimal, formatMoneyInText } from '../../trade/money/money.js';
import type { CostLine, CostSource } from '../../trade/pricing/course-price.js';
import type { Plan } from '../courses/plan-contract.js';
import { listMeteredMeans } from '../firings/queries.js';
import { fillInWords, getUsualFills } from '../firings/service.js';
import type { KilnWithWear, Schedule } from '../kilns/contract.js';
import { findTariffOn, getKiln, getSchedulesById, getWearMinor } from '../kilns/service.js';
import type { Studio } from '../settings/contract.js';
import { getRemakes } from './remakes.js';

const START_MINUTE = 9 * 60; // the usual start; a dearer hour shows in the firing's own cost
const SHARE_DECIMALS = 6;

/**
 * The cost lines of a plan's firings, by share of volume at the kiln's usual fill or by whole loads: energy and wear only, as the labour
 * is in the owner's hours.
 *
 * @param day    the day (YYYY-MM-DD) whose tariff will hold
 * @param places with whose ware the loads are counted, where they are paid for whole
 */
export async function firingCostLines(
  tx: Transaction,
  plan: Plan,
  { day, places }: { day: string; places: number },
  studio: Studio,
): Promise<CostLine[]> {
  if (plan.firings.length === 0) return [];
  const remade = await getRemakes(tx, studio);
  const tariff = await once(tx, `tariff on ${day}`, () => findTariffOn(tx, day)); // many plans are fired by the same
  const { fired, metered, fills } = await readFirings(tx, [plan]);
  return fired.map(({ kiln, schedule }, i): CostLine => {
    const energy = energyOf(kiln, schedule, metered[i]);
    const fill = fills[i] as UsualFill;
    const { amountMinor } = tariffCostMinor(spreadKwh(energy.kwh, START_MINUTE, energy.minutes), tariff.bands);
    const wear = getWearMinor(kiln, schedule.kind);
    const money = (minor: number) => formatMoneyInText(minor, studio.currency, studio.locale);
    const load = { kind: schedule.kind, fill, times: remade.times(schedule.kind) };
    const share = loadPerStudent(plan, kiln, load);
    const details = [
      `${energy.source.detail} ${money(amountMinor)} by the tariff "${tariff.name}" from 9:00, and ${money(wear)} for wear.`,
      `The kiln: ${fillInWords(fill, schedule.kind, studio.locale)}`,
      includedWare(plan, load).said,
      remade.inWords(schedule.kind),
      plan.wholeLoads ? `The course pays for the whole loads that ${places} of them need.` : '',
    ];
    return {
      ...{ kind: 'firing', key: `firing-${i + 1}`, wholeLoads: plan.wholeLoads },
      firing: { kilnId: kiln.id, scheduleId: schedule.id, kind: schedule.kind },
      reachPercent: remade.reach[schedule.kind],
      label: `${schedule.name}, ${kiln.name}`,
      ...(plan.wholeLoads ? wholeLoads(share, places) : { basis: 'per-student', quantity: share, unit: 'kiln load' }),
      rateMinor: String(amountMinor + wear),
      electricityMinor: String(amountMinor),
      source: {
        kind: fill.isLearnt ? energy.source.kind : 'assumption', // as sure as the less sure of the two
        detail: details.filter((sentence) => sentence !== '').join(' '),
      },
    };
  });
}

/** The kiln and schedule of each firing of these plans, in their order, what it draws and how full it usually is. */
export async function readFirings(tx: Transaction, plans: readonly Plan[]) {
  const firings = plans.flatMap((plan) => plan.firings);
  const schedules = await getSchedulesById(
    tx,
    firings.map(({ scheduleId }) => scheduleId),
  );
  const fired: { kiln: KilnWithWear; schedule: Schedule }[] = [];
  for (const { kilnId, scheduleId } of firings)
    fired.push({ kiln: await getKiln(tx, kilnId), schedule: schedules.get(scheduleId) as Schedule });
  const fills = await getUsualFills(
    tx,
    fired.map(({ kiln, schedule }) => ({ kiln, kind: schedule.kind })),
  );
  return { fired, metered: await listMeteredMeans(tx, firings), fills };
}

/** However many come, the kiln is fired as for all of them: what they leave free in it nobody else pays. */
const wholeLoads = (share: string, places: number): Pick<CostLine, 'basis' | 'quantity' | 'unit'> => ({
  ...{ basis: 'per-course', unit: 'whole load' },
  quantity: new Decimal(share).times(places).ceil().toFixed(),
});

const MM3_PER_LITRE = 1_000_000;

/** A kind of firing, how full it usually is, and how many times over each piece wanted goes into it: some are made again. */
type Fired = { kind: FiringKind; fill: UsualFill; times: Decimal };

/** What part of a load of this kiln, at its usual fill, the ware of a student takes whose firing is in the price: a decimal string. */
export function loadPerStudent(plan: Plan, kiln: KilnWithWear, fired: Fired): string {
  const filled = new Decimal(kiln.chamberMm3).times(fired.fill.percent).div(100);
  return includedWare(plan, fired).litres.times(MM3_PER_LITRE).div(filled).toDecimalPlaces(SHARE_DECIMALS).toFixed();
}

/**
 * The ware of each student whose firing is in the price: all that goes through it, or what the included litres leave of it. Those are
 * counted by the fired size, whatever the ware takes in another firing.
 */
function includedWare(
  { litresPerStudent, firingIncludedLitres }: Plan,
  { kind, times }: Pick<Fired, 'kind' | 'times'>,
): { litres: Decimal; said: string } {
  const litres = new Decimal(litresPerStudent[kind]).times(times);
  const shown = (of: Decimal) => of.toDecimalPlaces(2).toFixed();
  if (litres.isZero()) return { litres, said: 'Nothing of the plan goes through it: say in the plan what is fired.' };
  const again = times.gt(1) ? ' and what is made again take' : ' takes';
  const takes = `Each student's ware${again} ${shown(litres)} litres, ${ROOM_RULE[kind]}`;
  const counted = new Decimal(litresPerStudent.lustre).times(times);
  if (firingIncludedLitres === null || counted.lte(firingIncludedLitres)) return { litres, said: `${takes}.` };
  return {
    litres: litres.times(firingIncludedLitres).div(counted),
    said: `${takes}; ${firingIncludedLitres} of its ${shown(counted)} fired litres are in the price. Ware beyond that is billed to its maker with each firing: a piece that no longer fits is taken in as theirs to pay for.`,
  };
}

/** What a firing draws: the mean of the metered ones of this kiln and schedule; without any, rated power * hours * duty. */
function energyOf(kiln: KilnWithWear, schedule: Schedule, metered: { kwh: string; firings: number } | undefined) {
  if (metered) {
    const kwh = new Decimal(metered.kwh).toDecimalPlaces(3).toFixed();
    const count = metered.firings === 1 ? 'One metered firing' : `Mean of ${metered.firings} metered firings`;
    return { kwh, minutes: schedule.programmedMinutes, source: source('meter', `${count}: ${kwh} kWh.`) };
  }
  const dutyPercent = schedule.kind === 'glaze' ? ELEMENT_DUTY.glaze : ELEMENT_DUTY.bisque;
  const hours = new Decimal(schedule.programmedMinutes).div(60).toDecimalPlaces(2).toFixed();
  const kwh = new Decimal(predictedKwh({ ratedKw: kiln.ratedKw, hours, dutyPercent })).toDecimalPlaces(3).toFixed();
  const [low, high] = schedule.kind === 'lustre' ? [] : MONITORED_KWH_PER_LITRE[schedule.kind];
  const monitored = low && high ? ` (kilns that were monitored used ${low} to ${high})` : '';
  const perLitre = `${kwhPerLitre(kwh, kiln.chamberMm3)} for each litre of the chamber${monitored}`;
  const detail = `${kiln.ratedKw} kW for ${hours} h at ${dutyPercent}% (common practice): ${kwh} kWh, ${perLitre}. Note the meter at a firing of this schedule to replace it.`;
  return { kwh, minutes: schedule.programmedMinutes, source: source('assumption', detail) };
}

const source = (kind: CostSource['kind'], detail: string): CostSource => ({ kind, detail });
