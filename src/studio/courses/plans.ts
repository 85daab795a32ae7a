import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import { boxVolumeMm3, KILN_GAP_MM, sizeFrom } from '../../trade/forms.js';
import { Decimal } from '../../trade/money.js';
import { kiln, schedule } from '../kilns/service.js';
import { material } from '../materials/service.js';
import { taxRate } from '../settings/service.js';
import { tile } from '../tiles/service.js';
import type { NewPlan, Plan } from './plan-contract.js';
import { type Fireable, type FiringHeat, refuseOutsideRange } from './ranges.js';

/** Adds a plan, the recipe of a course. Refuses ware that one of its own firings would ruin or leave raw. */
export async function addPlan(tx: Transaction, wanted: NewPlan): Promise<Plan> {
  if ((await tx.coursePlan.count({ where: { name: wanted.name } })) > 0)
    throw new Problem('already-there', `There is a course plan named "${wanted.name}" already. Choose another name.`);
  await refuseUnfit(tx, wanted);
  const { sessions, pieces, materials, firings, secondTutor, soldAt, parts, ...rest } = wanted;
  const id = newId();
  await tx.coursePlan.create({
    data: {
      id,
      ...rest,
      secondTutorFeeMinor: secondTutor?.feeMinor ?? null,
      secondTutorAbove: secondTutor?.above ?? null,
      planSessions: { create: numbered(sessions) },
      planPieces: { create: numbered(pieces.map(pieceRow)) },
      planMaterials: { create: materials },
      planFirings: { create: numbered(firings) },
      planConcessions: { create: numbered(soldAt) },
      planParts: { create: numbered(parts) },
    },
  });
  return plan(tx, id);
}

export async function plan(tx: Transaction, id: string): Promise<Plan> {
  const row = await tx.coursePlan.findUnique({ where: { id }, include: WHOLE });
  if (!row) throw new Problem('not-found', 'No course plan has this id. Look it up under /api/course-plans.');
  return show(row);
}

/** Several plans at once, by their ids. */
export async function plansById(tx: Transaction, ids: readonly string[]): Promise<Plan[]> {
  return (await tx.coursePlan.findMany({ where: { id: { in: [...ids] } }, include: WHOLE })).map(show);
}

export async function plans(tx: Transaction, query: PageQuery) {
  return page(await tx.coursePlan.findMany({ include: WHOLE, ...pageArgs(query) }), query, show);
}

/** Every clay and glaze against every firing; names that lead nowhere are refused on the way. */
async function refuseUnfit(tx: Transaction, { pieces, materials, firings, parts }: NewPlan): Promise<void> {
  for (const { taxRateId } of parts) await taxRate(tx, taxRateId);
  for (const { materialId } of materials) await material(tx, materialId);
  const wares = new Map<string, Fireable>();
  for (const { clayId, glaze, tileId } of pieces) {
    if (tileId !== null) await tile(tx, tileId);
    wares.set(clayId, await materialOf('clay', tx, clayId));
    if (glaze) wares.set(glaze.materialId, await materialOf('glaze', tx, glaze.materialId));
  }
  const heats: FiringHeat[] = [];
  for (const { kilnId, scheduleId } of firings) {
    await kiln(tx, kilnId);
    heats.push(await schedule(tx, scheduleId));
  }
  refuseOutsideRange([...wares.values()], heats);
}

async function materialOf(kind: 'clay' | 'glaze', tx: Transaction, id: string) {
  const found = await material(tx, id);
  if (found.kind !== kind)
    throw new Problem('invalid-request', `${found.name} is no ${kind}. Choose a ${kind} for each piece.`);
  return found;
}

const numbered = <T>(items: readonly T[]) => items.map((item, i) => ({ ...item, ordinal: i + 1 }));

function pieceRow({ form, size, glaze, ...rest }: NewPlan['pieces'][number]) {
  return {
    ...rest,
    ...(typeof size === 'string' ? sizeFrom(form, size) : size),
    form,
    glazeId: glaze?.materialId ?? null,
    gramsPerDm2: glaze?.gramsPerDm2 ?? null,
  };
}

const WHOLE = {
  planSessions: { orderBy: { ordinal: 'asc' } },
  planPieces: { orderBy: { ordinal: 'asc' } },
  planMaterials: { orderBy: { materialId: 'asc' } },
  planFirings: { orderBy: { ordinal: 'asc' } },
  planConcessions: { orderBy: { ordinal: 'asc' } },
  planParts: { orderBy: { ordinal: 'asc' } },
} as const satisfies Prisma.CoursePlanInclude;

function show(row: Prisma.CoursePlanGetPayload<{ include: typeof WHOLE }>): Plan {
  const { planSessions, planPieces, planMaterials, planFirings, planConcessions, planParts, ...columns } = row;
  const { secondTutorFeeMinor, secondTutorAbove, firingIncludedLitres, ...rest } = columns;
  const pieces = planPieces.map(showPiece);
  return {
    ...rest,
    firingIncludedLitres: firingIncludedLitres && fromDecimal(firingIncludedLitres),
    litresPerStudent: litresOf(pieces),
    secondTutor:
      secondTutorFeeMinor === null || secondTutorAbove === null
        ? null
        : { feeMinor: secondTutorFeeMinor, above: secondTutorAbove },
    sessions: planSessions.map(({ purpose, minutes, prepareMinutes, clearMinutes }) => ({
      purpose,
      minutes,
      prepareMinutes,
      clearMinutes,
    })),
    pieces,
    materials: planMaterials.map(({ materialId, perStudent }) => ({ materialId, perStudent })),
    firings: planFirings.map(({ kilnId, scheduleId }) => ({ kilnId, scheduleId })),
    soldAt: planConcessions.map(({ label, sharePercent, pricePercent, lessMinor, payments }) => ({
      ...{ label, lessMinor, payments },
      ...{ sharePercent: fromDecimal(sharePercent), pricePercent: fromDecimal(pricePercent) },
    })),
    parts: planParts.map(({ label, taxRateId, sharePercent, amountMinor }) => ({
      ...{ label, taxRateId, amountMinor },
      sharePercent: sharePercent && fromDecimal(sharePercent),
    })),
  };
}

const MM3_PER_LITRE = 1_000_000;

/** What one student's pieces take in a kiln: the boxes by which a firing is shared out. */
function litresOf(pieces: Plan['pieces']): string {
  const mm3 = pieces.reduce((sum, { size, perStudent }) => sum + boxVolumeMm3(size, KILN_GAP_MM) * perStudent, 0);
  return new Decimal(mm3).div(MM3_PER_LITRE).toFixed(); // exact: a firing's share is reckoned from it
}

function showPiece(row: Prisma.PlanPieceGetPayload<object>): Plan['pieces'][number] {
  const { form, widthMm, depthMm, heightMm, wetMassGrams, perStudent, clayId, glazeId, gramsPerDm2, tileId } = row;
  const glaze =
    glazeId === null || gramsPerDm2 === null ? null : { materialId: glazeId, gramsPerDm2: fromDecimal(gramsPerDm2) };
  return { form, size: { widthMm, depthMm, heightMm }, wetMassGrams, perStudent, clayId, glaze, tileId };
}
