import type { Transaction } from '../../database/transaction.js';
import { DUTY, predictedKwh } from '../../trade/energy.js';
import { type Learnt, learntLosses, learntMean, lossesPercent, remakesPercent } from '../../trade/learnt.js';
import { Decimal } from '../../trade/money.js';
import type { Plan } from '../courses/plan-contract.js';
import { plan } from '../courses/service.js';
import type { FiringKind } from '../kilns/contract.js';
import { kiln, schedule } from '../kilns/service.js';
import { material } from '../materials/service.js';
import type { Studio } from '../settings/contract.js';
import { studio } from '../settings/service.js';
import type { Proposal, Proposals } from './afterwards-contract.js';
import { OWN_TIME } from './afterwards-lines.js';
import { type CourseRecord, courseRecords } from './afterwards-records.js';
import { usagePerStudent } from './materials.js';

/** What the next plan should assume, by all completed courses of this one that somebody stood on. Nothing is changed by it. */
export async function proposals(tx: Transaction, planId: string): Promise<Proposals> {
  const recipe = await plan(tx, planId);
  const home = await studio(tx);
  const over = await tx.course.findMany({
    where: { planId, completedOn: { not: null } },
    select: { id: true },
    orderBy: { id: 'asc' },
  });
  const found = await courseRecords(
    tx,
    over.map(({ id }) => id),
  );
  const records = [...found.values()].filter(({ students }) => students > 0);
  return {
    ...{ planId, name: recipe.name, courses: records.length },
    proposals: [
      ...(await ofMaterials(tx, recipe, home, records)),
      ...ofTime(recipe, records),
      ...(await ofFirings(tx, recipe, records)),
      ofLosses(home, records),
    ],
  };
}

const exact = (x: Decimal): string => x.toDecimalPlaces(6).toFixed();
const proposal = (key: string, label: string, unit: string, learnt: Learnt, detail: string): Proposal => ({
  ...{ key, label, unit, ...learnt, detail },
});

/** A course that weighed something out tells of every material; one that weighed out nothing tells of none. */
async function ofMaterials(tx: Transaction, recipe: Plan, home: Studio, records: readonly CourseRecord[]) {
  const usages = await usagePerStudent(tx, recipe, home);
  const named = new Set(usages.map((usage) => usage.material.id));
  const drawn = new Set(records.flatMap((record) => [...record.drawn.keys()]));
  const proposed = usages.map(({ material: m, quantity, use }) => {
    const measured = records.flatMap((record) => perStudent(record, m.id) ?? []);
    const detail =
      use === 'clay'
        ? 'Its pieces and their wet mass in the plan; offcuts, remakes and reclaim in the settings.'
        : use === 'glaze'
          ? 'The grams per dm² in the plan, and the waste in the settings.'
          : 'The amount for each student in the plan.';
    return proposal(`${use}-${m.id}`, `${m.name}, each student`, m.unit, learntMean(quantity, measured), detail);
  });
  for (const id of [...drawn].filter((each) => !named.has(each))) {
    const m = await material(tx, id);
    const measured = records.filter((r) => r.drawn.size > 0).map((record) => perStudent(record, id) ?? '0');
    const detail = 'Not in the plan, though it was weighed out: name it among its materials.';
    proposed.push(proposal(`other-${id}`, `${m.name}, each student`, m.unit, learntMean('0', measured), detail));
  }
  return proposed;
}

function perStudent({ drawn, students }: CourseRecord, id: string): string | undefined {
  const taken = drawn.get(id);
  return taken && exact(new Decimal(taken.quantity).div(students));
}

/** Hours of a whole course; what the plan reckons for each student is taken at the mean number of those who came. */
function ofTime(recipe: Plan, records: readonly CourseRecord[]): Proposal[] {
  const sum = (what: 'minutes' | 'prepareMinutes' | 'clearMinutes') =>
    recipe.sessions.reduce((total, session) => total + session[what], 0);
  return OWN_TIME.map(({ key, label, works }) => {
    const noted = records
      .map((record) => ({ ...record, all: works.reduce((total, work) => total + (record.minutes.get(work) ?? 0), 0) }))
      .filter(({ all }) => all > 0);
    const students = noted.reduce((total, record) => total + record.students, 0);
    const meanStudents = noted.length === 0 ? new Decimal(recipe.places) : new Decimal(students).div(noted.length);
    const planned = {
      teaching: new Decimal(sum('minutes')),
      preparing: new Decimal(sum('prepareMinutes')),
      clearing: new Decimal(sum('clearMinutes')),
      beside: meanStudents.times(recipe.minutesPerStudent).plus(recipe.otherMinutes),
    }[key];
    const measured = noted.map(({ all }) => exact(new Decimal(all).div(60)));
    const detail =
      key === 'beside' ? 'otherMinutes and minutesPerStudent of the plan.' : "The minutes of the plan's sessions.";
    return proposal(
      `own-time-${key}`,
      `Your time, ${label}`,
      'h',
      learntMean(exact(planned.div(60)), measured),
      detail,
    );
  });
}

/** kWh of a whole load, before anything is measured: rated power * hours * duty. Of several firings of one kind, their mean. */
async function ofFirings(tx: Transaction, recipe: Plan, records: readonly CourseRecord[]): Promise<Proposal[]> {
  const predicted = new Map<FiringKind, Decimal[]>();
  for (const { kilnId, scheduleId } of recipe.firings) {
    const [oven, program] = [await kiln(tx, kilnId), await schedule(tx, scheduleId)];
    const dutyPercent = program.kind === 'glaze' ? DUTY.glaze : DUTY.bisque;
    const hours = new Decimal(program.programmedMinutes).div(60).toFixed();
    const kwh = new Decimal(predictedKwh({ ratedKw: oven.ratedKw, hours, dutyPercent }));
    predicted.set(program.kind, [...(predicted.get(program.kind) ?? []), kwh]);
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
      learntMean(exact(mean(kwh)), measured),
      detail,
    );
  });
}

function ofLosses(home: Studio, records: readonly CourseRecord[]): Proposal {
  const learnt = learntLosses(
    lossesPercent(home.remakesPercent),
    records.map(({ pieces }) => ({ pieces: pieces.made, lost: pieces.lost })),
  );
  const remakes = remakesPercent(learnt.proposed);
  const again = remakes === null ? 'all' : `${new Decimal(remakes).toDecimalPlaces(1).toFixed()} %`;
  const detail = `remakesPercent in the settings, which counts what is made again on what is wanted: ${again} by the figure proposed.`;
  return proposal('losses', 'Pieces lost, of those made', '%', learnt, detail);
}
