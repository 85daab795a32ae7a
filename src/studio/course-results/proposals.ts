import type { Transaction } from '../../database/transaction.js';
import { ELEMENT_DUTY, predictedKwh } from '../../trade/firing/energy.js';
import { Decimal } from '../../trade/money/money.js';
import {
  type LearnedRate,
  learnLosses,
  learnMean,
  lossesPercent,
  remakesPercent,
} from '../../trade/pricing/learned-rates.js';
import { formatPercent } from '../../trade/text/format.js';
import type { Plan } from '../courses/plan-contract.js';
import { getPlan } from '../courses/service.js';
import type { FiringKind } from '../kilns/contract.js';
import { getKiln, getSchedule } from '../kilns/service.js';
import { getMaterial } from '../materials/service.js';
import { getUsagePerStudent, type Usage } from '../pricing/materials.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import { drawnOf, OWN_TIME } from './compared-lines.js';
import type { PlanProposal, PlanProposals } from './contract.js';
import { type CourseRecord, getCourseRecords } from './course-records.js';

/** How a studio works changes over the years: the latest courses of a plan tell. */
const LATEST = 24;

/** What the next plan should assume, by the latest completed courses of this one that somebody stood on. Nothing is changed by it. */
export async function getProposals(tx: Transaction, planId: string): Promise<PlanProposals> {
  const plan = await getPlan(tx, planId);
  const studio = await getStudio(tx);
  const over = await tx.course.findMany({
    where: { planId, completedOn: { not: null } },
    select: { id: true },
    orderBy: [{ completedOn: 'desc' }, { id: 'desc' }],
    take: LATEST,
  });
  const found = await getCourseRecords(
    tx,
    over.map(({ id }) => id),
  );
  const records = [...found.values()].filter(({ students }) => students > 0);
  return {
    ...{ planId, name: plan.name, courses: records.length },
    proposals: [
      ...(await ofMaterials(tx, plan, studio, records)),
      ...(await ofReclaim(tx, plan, studio, records)),
      ...ofTime(plan, records),
      ...(await ofFirings(tx, plan, records)),
      ofLosses(studio, records),
    ],
  };
}

const exact = (x: Decimal): string => x.toDecimalPlaces(6).toFixed();
const proposal = (key: string, label: string, unit: string, learnt: LearnedRate, detail: string): PlanProposal => ({
  ...{ key, label, unit, ...learnt, detail },
});

/** What each student draws of a material, by the courses that tell: where another of its kind was taken in its stead, none was. */
async function ofMaterials(tx: Transaction, plan: Plan, studio: Studio, records: readonly CourseRecord[]) {
  const usages = await getUsagePerStudent(tx, plan, studio);
  const named = new Set(usages.map((usage) => usage.material.id));
  const others: Usage[] = [];
  for (const id of new Set(records.flatMap(({ drawn }) => [...drawn.keys()])))
    if (!named.has(id))
      others.push({ material: await getMaterial(tx, id), quantity: '0', reclaimed: '0', use: 'other' });
  const all = [...usages, ...others];
  const materials = new Map(all.map((usage) => [usage.material.id, usage.material]));
  return all.map(({ material: m, quantity, use }) => {
    const measured = records.flatMap(({ drawn, students }) => {
      const taken = drawnOf(drawn, m, named, materials);
      return taken ? exact(new Decimal(taken.quantity).div(students)) : [];
    });
    const detail = named.has(m.id) ? WHERE[use] : 'Not in the plan, though it was weighed out: name it there.';
    return proposal(`${use}-${m.id}`, `${m.name}, each student`, m.unit, learnMean(quantity, measured), detail);
  });
}

const WHERE: Record<Usage['use'], string> = {
  clay: 'The wet mass of the pieces in the plan; offcuts and remakes in the settings.',
  glaze: 'The grams per dm² in the plan; waste and remakes in the settings.',
  other: 'The amount for each student in the plan.',
};

/** What came back of each clay of the plan, by the courses of which some was noted: where none was, nobody may have noted it. */
async function ofReclaim(tx: Transaction, plan: Plan, studio: Studio, records: readonly CourseRecord[]) {
  const clays = (await getUsagePerStudent(tx, plan, studio)).filter(({ use }) => use === 'clay');
  return clays.map(({ material: { id, name } }) => {
    const measured = records.flatMap(({ drawn, reclaimed }) => {
      const [out, back] = [drawn.get(id), reclaimed.get(id)];
      return out && back ? exact(new Decimal(back.quantity).times(100).div(out.quantity)) : [];
    });
    const learnt = learnMean(studio.reclaimedPercent, measured);
    const detail = 'The reclaim in the settings, of what is weighed out; measured by the courses that noted some.';
    return proposal(`reclaim-${id}`, `${name}, reclaimed`, '%', learnt, detail);
  });
}

/** Hours of a whole course; what the plan reckons for each student is taken at the mean number of those who came. */
function ofTime(plan: Plan, records: readonly CourseRecord[]): PlanProposal[] {
  const sum = (what: 'minutes' | 'prepareMinutes' | 'clearMinutes') =>
    plan.sessions.reduce((total, session) => total + session[what], 0);
  return OWN_TIME.map(({ key, label, works }) => {
    const noted = records
      .map((record) => ({ ...record, all: works.reduce((total, work) => total + (record.minutes.get(work) ?? 0), 0) }))
      .filter(({ all }) => all > 0);
    const students = noted.reduce((total, record) => total + record.students, 0);
    const meanStudents = noted.length === 0 ? new Decimal(plan.places) : new Decimal(students).div(noted.length);
    const planned = {
      teaching: new Decimal(sum('minutes')),
      preparing: new Decimal(sum('prepareMinutes')),
      clearing: new Decimal(sum('clearMinutes')),
      beside: meanStudents.times(plan.minutesPerStudent).plus(plan.otherMinutes),
    }[key];
    const measured = noted.map(({ all }) => exact(new Decimal(all).div(60)));
    const detail =
      key === 'beside'
        ? "The plan's minutes outside the sessions, and for each student."
        : "The minutes of the plan's sessions.";
    return proposal(`own-time-${key}`, `Your time, ${label}`, 'h', learnMean(exact(planned.div(60)), measured), detail);
  });
}

/** kWh of a whole load, before anything is measured: rated power * hours * duty. Of several firings of one kind, their mean. */
async function ofFirings(tx: Transaction, plan: Plan, records: readonly CourseRecord[]): Promise<PlanProposal[]> {
  const predicted = new Map<FiringKind, Decimal[]>();
  for (const { kilnId, scheduleId } of plan.firings) {
    const [kiln, schedule] = [await getKiln(tx, kilnId), await getSchedule(tx, scheduleId)];
    const dutyPercent = schedule.kind === 'glaze' ? ELEMENT_DUTY.glaze : ELEMENT_DUTY.bisque;
    const hours = new Decimal(schedule.programmedMinutes).div(60).toFixed();
    const kwh = new Decimal(predictedKwh({ ratedKw: kiln.ratedKw, hours, dutyPercent }));
    predicted.set(schedule.kind, [...(predicted.get(schedule.kind) ?? []), kwh]);
  }
  const mean = (values: readonly (Decimal | string)[]) =>
    values.reduce((total: Decimal, value) => total.plus(value), new Decimal(0)).div(values.length);
  return [...predicted].map(([kind, kwh]) => {
    const measured = records.flatMap(({ fired }) => {
      const loads = fired.get(kind)?.loadKwh ?? [];
      return loads.length === 0 ? [] : exact(mean(loads));
    });
    const detail = 'By rated power and duty; the price takes the mean of the metered firings of its kiln by itself.';
    return proposal(
      `kwh-${kind}`,
      `A ${kind} firing, whole load`,
      'kWh',
      learnMean(exact(mean(kwh)), measured),
      detail,
    );
  });
}

function ofLosses(studio: Studio, records: readonly CourseRecord[]): PlanProposal {
  const learnt = learnLosses(
    lossesPercent(studio.remakesPercent),
    records.map(({ pieces }) => ({ pieces: pieces.made, lost: pieces.lost })),
  );
  const remakes = remakesPercent(learnt.proposed);
  const again =
    remakes === null ? 'all' : formatPercent(new Decimal(remakes).toDecimalPlaces(1).toFixed(), studio.locale);
  const detail = `The remakes in the settings, counted on the pieces wanted: ${again} with the figure proposed.`;
  return proposal('losses', 'Pieces lost, of those made', '%', learnt, detail);
}
